import { openDatabase } from '#db/open.ts'
import type { ClinicId, MemberId, SiteId } from '#shared/ids.ts'
import { clinicOn } from './clinic.ts'

// Asks one command after another and says each id once it is acknowledged, until it is killed.
const [place = '', clinicId = '', manager = ''] = process.argv.slice(2)
const database = await openDatabase(place.startsWith('postgres:') ? { url: place } : { folder: place })
const clinic = clinicOn(database, {
  clinicId: clinicId as ClinicId,
  manager: manager as MemberId,
  siteId: '' as SiteId,
  assistants: [],
})
process.stdout.write('open\n')
const until = Date.now() + 60_000
for (let turn = 0; Date.now() < until; turn += 1) {
  const name = `Someone ${process.pid} ${turn}`
  const id = crypto.randomUUID()
  await clinic.perform('person.add', { name, shortName: name, roles: ['assistant'] }, clinic.manager, id)
  process.stdout.write(`kept ${id}\n`)
}
