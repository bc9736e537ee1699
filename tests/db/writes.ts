import { openDatabase } from '#db/open.ts'
import { addOperatory, foundClinic } from '#tests/support/clinic.ts'

/** A process of its own that founds a clinic and adds operatories until it is killed, printing each when it is acknowledged. */
const database = await openDatabase({ folder: process.argv[2] ?? null })
const clinic = await foundClinic(database)
console.log(`clinic ${clinic.clinicId}`)
for (let number = 1; ; number += 1) {
  await addOperatory(clinic, `Room ${number}`)
  console.log(`kept ${number}`)
}
