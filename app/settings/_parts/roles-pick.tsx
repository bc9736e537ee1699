'use client'
import { Button } from '#app/_ui/button.tsx'
import { PERSON_ROLES, type Role } from '#shared/people/role.ts'
import { ROLE_WORDS } from '#shared/words/en/states.ts'
import styles from './settings.module.css'

interface RolesPickProps {
  roles: Role[]
  onRoles: (roles: Role[]) => void
  releasesLoads: boolean
  onReleases: (releases: boolean) => void
}

export function RolesPick({ roles, onRoles, releasesLoads, onReleases }: RolesPickProps) {
  const touch = (role: Role) =>
    onRoles(roles.includes(role) ? roles.filter((each) => each !== role) : [...roles, role])
  return (
    <fieldset className={styles.choices}>
      <legend>Roles</legend>
      {PERSON_ROLES.map((role) => (
        <Button key={role} size="small" aria-pressed={roles.includes(role)} onPress={() => touch(role)}>
          {ROLE_WORDS[role]}
        </Button>
      ))}
      <Button size="small" aria-pressed={releasesLoads} onPress={() => onReleases(!releasesLoads)}>
        trained to release loads
      </Button>
    </fieldset>
  )
}
