import { Planks } from '#app/_frame/planks.tsx'
import { FoundForm } from './found-form.tsx'
import { PasswordForm } from './password-form.tsx'
import { type OneTapPerson, PeopleList } from './people-list.tsx'
import styles from './sign-in.module.css'

/** What someone who is not signed in may know: the clinic's name, and in the invented clinic its people. */
export interface SignInDoors {
  clinicName: string | null
  invented: boolean
  people: OneTapPerson[]
}

export function SignInScreen({ doors }: { doors: SignInDoors }) {
  return (
    <main className={styles.screen}>
      <header className={styles.head}>
        <p className={styles.house}>
          <Planks />
          Weirboard
        </p>
        <h1 className={styles.clinic}>{doors.clinicName ?? 'A new clinic'}</h1>
        <p className={styles.line}>Which operatory is ready, which is not, why, and whose turn it is.</p>
      </header>
      {doors.clinicName === null ? <FoundForm /> : null}
      {doors.people.length > 0 ? <PeopleList people={doors.people} /> : null}
      {doors.clinicName === null ? null : <PasswordForm />}
    </main>
  )
}
