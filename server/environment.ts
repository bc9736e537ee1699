import { z } from 'zod'

const Environment = z.object({
  HOST: z.string().min(1).default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65535).default(3000),
  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, 'must begin with postgres://')
    .optional(),
  DATA_FOLDER: z.string().min(1).default('.data'),
  /** The address people use, where it is not HOST:PORT: behind a proxy. */
  PUBLIC_ADDRESS: z.url().optional(),
  /** Signs the sign-in cookie. Made and kept in the data folder where it is not given. */
  SIGN_IN_SECRET: z.string().min(32).optional(),
  /** Hosts inside the clinic's own network from which a calendar may be fetched, with commas between. None by default. */
  CALENDAR_INSIDE_HOSTS: z
    .string()
    .transform((text) =>
      text
        .split(',')
        .map((host) => host.trim().toLowerCase())
        .filter((host) => host !== ''),
    )
    .optional(),
  /** `invented` creates a clinic to look around in on the first run, `real` waits for its first manager. */
  CLINIC: z.enum(['invented', 'real']).default('invented'),
})
export type Environment = z.infer<typeof Environment>

/** The settings a process was given; exits with what, why and what to do where one cannot be read. */
export function readEnvironment(variables: NodeJS.ProcessEnv): Environment {
  // Service managers set a variable to nothing where they mean none.
  const given = Object.fromEntries(Object.entries(variables).filter(([, value]) => value !== ''))
  const parsed = Environment.safeParse(given)
  if (parsed.success) return parsed.data
  for (const issue of parsed.error.issues) {
    console.error(`The setting ${issue.path.join('.')} cannot be used: ${issue.message}.`)
  }
  console.error(
    'The process does not start on settings it would have to guess.\nCorrect them and start again.',
  )
  process.exit(2)
}
