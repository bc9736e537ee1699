import type { Database } from '#db/database.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Asked, Performed } from './commands/performed.ts'
import type { Environment } from './environment.ts'
import type { Accounts } from './sign-in/accounts.ts'

/** What making a clinic needs of the house. */
export interface Foundations {
  database: Database
  accounts: Accounts
  perform: (asked: Asked) => Promise<Performed>
  clinics: () => Promise<ClinicId[]>
  environment: Environment
  wall: () => number
}
