'use client'
import Link from 'next/link'
import { HelpCards } from '#app/_help/help-cards.tsx'
import { AppointmentHolder, type AppointmentHolderProps } from '#app/_live/appointment-holder.tsx'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useSeen } from '#app/_live/use-seen.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { keyed } from '#app/_ui/finding-keys.ts'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import list from '#app/_ui/list.module.css'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { PrintLinks } from '#app/_ui/print-links.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { ToothFrame } from '#app/_ui/tooth-frame.tsx'
import { workWords } from '#app/_ui/work-words.ts'
import { StopButton } from '#app/appointments/[appointmentId]/_parts/stop-button.tsx'
import { RULES } from '#shared/rules.ts'
import type { StockLine, Tray } from '#shared/trays/tray.ts'
import { STATE_WORDS } from '#shared/words/en/trays.ts'
import styles from '../../_parts/trays.module.css'
import { CountBack } from './count-back.tsx'
import { OpenPacks } from './open-packs.tsx'
import { ScanOntoTray } from './scan-onto-tray.tsx'
import { TrayActs } from './tray-acts.tsx'
import { TrayLineRow } from './tray-line-row.tsx'

export interface TrayScreenProps extends AppointmentHolderProps {
  /** What lies on the shelf, by lot, when the screen was opened. */
  lots: StockLine[]
}

export function TrayScreen(props: TrayScreenProps) {
  return (
    <AppointmentHolder {...props}>
      <TrayPage {...props} />
    </AppointmentHolder>
  )
}

function TrayPage({ appointmentId, member, lots }: TrayScreenProps) {
  const seen = useSeen({ appointmentId, member })
  if (!seen) return <p className={list.page}>This appointment is not here any more. Go back to the queue.</p>
  return <TrayOf seen={seen} lots={lots} />
}

function TrayOf({ seen, lots }: { seen: Seen; lots: StockLine[] }) {
  const performing = usePerform()
  const { tray } = seen.facts
  const added = tray ? addedTo(tray) : []
  return (
    <article className={list.page}>
      <TrayHead seen={seen} />
      <StopButton seen={seen} />
      <HelpCards seen={seen} />
      <ul className={list.rows}>
        {keyed(seen.readiness.open.filter(isOfTray)).map(({ key, finding }) => (
          <li key={key}>
            <FindingLine finding={finding} />
          </li>
        ))}
      </ul>
      {tray ? (
        <>
          <TrayActs seen={seen} tray={tray} performing={performing} />
          <OutcomeBox outcome={performing.outcome} />
          <ScanOntoTray tray={tray} performing={performing} />
          <ul className={styles.lines}>
            {seen.trayLines.map((line) => (
              <TrayLineRow
                key={line.id}
                line={line}
                isNew={added.includes(line.name)}
                lots={lots}
                seen={seen}
                performing={performing}
              />
            ))}
          </ul>
          <OpenPacks seen={seen} tray={tray} performing={performing} />
          <CountBack seen={seen} tray={tray} performing={performing} />
        </>
      ) : (
        <ActButton
          kind="tray.request"
          input={{ appointmentId: seen.facts.appointment.id }}
          performing={performing}
          size="main"
          tone="ink"
        >
          Draw up a tray
        </ActButton>
      )}
      <CautionLine />
    </article>
  )
}

/** Lines that came after it was laid out: another dentist's, or a changed plan's. */
const addedTo = ({ life }: Tray): string[] => (life.kind === 'laid-out' ? (life.recheck?.added ?? []) : [])

const isOfTray = ({ rule }: Seen['readiness']['open'][number]): boolean =>
  RULES[rule].check === 'tray' || RULES[rule].check === 'allergies'

function TrayHead({ seen }: { seen: Seen }) {
  const { appointment, operatory, dentist, tray, work } = seen.facts
  return (
    <header className={styles.head}>
      <div>
        <h1>
          Tray for {operatoryWords(operatory?.name)}, {timeOf(appointment.start, seen.zone)}
        </h1>
        {work.map((each) => (
          <p key={each.id} className={styles.title}>
            {workWords(each)} <ToothFrame teeth={each.teeth} notation={seen.notation} />
          </p>
        ))}
        <p className={list.small}>{dentist?.shortName ?? 'no dentist yet'}</p>
      </div>
      <div>
        <p>
          {tray ? (
            <>
              <strong>{STATE_WORDS[tray.life.kind]}</strong> · {tray.done} of {tray.of}
            </>
          ) : (
            'No tray yet'
          )}
        </p>
        <Link href={`/appointments/${appointment.id}`} className={list.open} prefetch={false}>
          Plan page
        </Link>
        {tray && !seen.isPutAway ? <PrintLinks what="tray-card" appointmentId={appointment.id} /> : null}
      </div>
    </header>
  )
}
