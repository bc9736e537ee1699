import { cookies } from 'next/headers'
import Link from 'next/link'
import type { ReactNode } from 'react'
import type { Clinic, Member } from '#shared/people/clinic.ts'
import { can, type Permission, type Role } from '#shared/people/role.ts'
import { ROLE_WORDS } from '#shared/words/en/states.ts'
import styles from './frame.module.css'
import { Planks } from './planks.tsx'
import { SignOut } from './sign-out.tsx'

/** A device that the manager made a shared station holds it. */
const STATION_TOKEN = 'weirboard.station_token'

const PLACES: { path: string; name: string; needs: Permission }[] = [
  { path: '/board', name: 'Board', needs: 'day:read' },
  { path: '/trays', name: 'Trays', needs: 'tray:use' },
  { path: '/sterilising', name: 'Sterilising', needs: 'sterility:run' },
  { path: '/day', name: 'Day', needs: 'day:change' },
  { path: '/signoffs', name: 'Sign-offs', needs: 'sign-off:give' },
  { path: '/settings', name: 'Settings', needs: 'clinic:set' },
  { path: '/wall', name: 'Wall', needs: 'day:read' },
]

export interface FrameProps {
  clinic: Clinic
  member: Member
  here: string
  children: ReactNode
}

/** What stands around every screen: where one is, whose clinic, who is signed in. */
export async function Frame({ clinic, member, here, children }: FrameProps) {
  const atStation = (await cookies()).has(STATION_TOKEN)
  return (
    <>
      <a href="#main" className={styles.skip}>
        To the content
      </a>
      <header className={styles.bar}>
        <span className={styles.house}>
          <Planks />
          Weirboard
        </span>
        <nav aria-label="Screens" className={styles.places}>
          {PLACES.filter(({ needs }) => can(member.roles, needs)).map(({ path, name }) => (
            <Link key={path} href={path} aria-current={path === here ? 'page' : undefined} prefetch={false}>
              {name}
            </Link>
          ))}
        </nav>
        <p className={styles.person}>
          <Link
            href="/sign-in/digits"
            className={styles.name}
            title="Your digits for shared stations"
            prefetch={false}
          >
            {member.name}
          </Link>
          <span className={styles.roles}>{rolesOf(member.roles)}</span>
        </p>
        <SignOut atStation={atStation} />
      </header>
      {clinic.invented ? (
        <aside className={styles.invented} aria-label="About this clinic">
          Invented clinic: nobody here is a patient, and the clock can be moved.
        </aside>
      ) : null}
      <main id="main">{children}</main>
    </>
  )
}

const rolesOf = (roles: readonly Role[]): string => roles.map((role) => ROLE_WORDS[role]).join(', ')
