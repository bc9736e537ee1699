import { randomBytes, randomUUID, timingSafeEqual } from 'node:crypto'
import { instant } from '#shared/base/moment.ts'
import type { ClinicId, CommandId, MemberId } from '#shared/ids.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { say } from '#shared/words/en.ts'
import type { Foundations } from './foundations.ts'
import type { Trouble } from './http/reply.ts'
import { inventClinic, resumeClock } from './invented.ts'
import { addAccount } from './sign-in/accounts.ts'
import { readClinic } from './sign-in/read-people.ts'

/** What the first manager of a real clinic fills in. */
export interface FoundForm {
  code: string
  clinicName: string
  zone: string
  notation: Notation
  name: string
  email: string
  password: string
}

export interface Door {
  /** Makes the invented clinic where there is none and none is to be real; takes up a demonstration where it stopped. */
  firstRun: () => Promise<void>
  found: (form: FoundForm) => Promise<Trouble | null>
  greet: (address: string) => Promise<void>
}

const WRONG_CODE: Trouble = {
  what: 'This is not the one-time code.',
  why: 'Only whoever runs this server may name the first manager.',
  todo: 'Read the code where the server was started. It works once, and is a new one after each start.',
}
const FOUNDED: Trouble = {
  what: 'This clinic is founded already.',
  why: 'Its people are added by its manager.',
  todo: 'Sign in, or ask the manager for an account.',
}

const codesMatch = (one: string, other: string): boolean => {
  const [a, b] = [Buffer.from(one), Buffer.from(other)]
  return a.length === b.length && timingSafeEqual(a, b)
}

/** How a clinic comes to be: invented on the first run, or real by a code that only the server's console shows. */
export function openDoor(foundations: Foundations): Door {
  const { clinics, environment } = foundations
  const code = randomBytes(5).toString('hex')
  let invented: { signInAs: string; password: string } | null = null
  let founding: Promise<Trouble | null> | null = null
  return {
    firstRun: async () => {
      const [known] = await clinics()
      if (known && (await readClinic(foundations.database, known))?.invented)
        await resumeClock(foundations, known)
      if (environment.CLINIC === 'invented' && !known) invented = await inventClinic(foundations)
    },
    found: async (form) => {
      if (!codesMatch(form.code.trim(), code)) return WRONG_CODE
      if (founding || (await clinics()).length > 0) return FOUNDED
      founding = foundReal(foundations, form)
      const trouble = await founding
      founding = null
      return trouble
    },
    greet: async (address) => {
      console.log(`\n  Weirboard is served at ${address}`)
      if (invented) {
        console.log('  The clinic and everyone in it are invented; one touch on the sign-in page is enough.')
        console.log(`  By name: ${invented.signInAs}, password: ${invented.password}\n`)
      } else if ((await clinics()).length === 0) {
        console.log('  There is no clinic yet. The first manager signs up there with this one-time code:')
        console.log(`  ${code}\n`)
      } else console.log('')
    },
  }
}

async function foundReal(
  { database, accounts, perform, wall }: Foundations,
  form: FoundForm,
): Promise<Trouble | null> {
  const clinicId = randomUUID() as ClinicId
  const memberId = randomUUID() as MemberId
  const performed = await perform({
    clinicId,
    command: {
      id: randomUUID() as CommandId,
      kind: 'clinic.found',
      input: {
        name: form.clinicName,
        invented: false,
        notation: form.notation,
        site: { name: form.clinicName, zone: form.zone, opensAt: '08:00', closesAt: '18:00' },
        manager: { name: form.name, shortName: form.name },
      },
      sawRevision: 0,
      madeAt: instant(wall()),
      by: memberId,
      station: 'first start',
    },
  })
  if (performed.refused) {
    return (
      performed.trouble ?? {
        what: performed.findings.map(say).join(' '),
        why: 'No clinic was founded.',
        todo: 'Correct the form and send it again.',
      }
    )
  }
  const { name, email, password } = form
  await addAccount(accounts, database.db, { name, email, password, clinicId, memberId })
  return null
}
