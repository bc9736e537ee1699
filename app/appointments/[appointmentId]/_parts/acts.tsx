'use client'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { can } from '#shared/people/role.ts'
import { nextGate } from '#shared/readiness/gates.ts'
import { recountOf } from '#shared/readiness/judges.ts'
import { shownWork } from '#shared/readiness/shown.ts'
import { STAGE_WORDS } from '#shared/words/en/states.ts'
import type { ActProps } from './act-props.ts'
import { AftercareActs } from './aftercare-acts.tsx'
import { CompanionActs } from './companion-acts.tsx'
import { ConsentAct } from './consent-act.tsx'
import { ClampOn, DamPlaced } from './dam-acts.tsx'
import { DoseActs } from './dose-acts.tsx'
import { HistoryAct } from './history-act.tsx'
import { Identify } from './identify.tsx'
import { InterruptActs } from './interrupt-acts.tsx'
import { LabelActs } from './label-acts.tsx'
import { LeaveActs } from './leave-acts.tsx'
import { LineActs } from './line-acts.tsx'
import { MonitorAct } from './monitor-act.tsx'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'
import { ReadBack, TimeOut } from './read-back.tsx'
import { RoomActs } from './room-acts.tsx'
import { shutAt, shutAtSeat, shutToPlacer, shutToStudent } from './shut.ts'
import { StayAct } from './stay-act.tsx'
import { TasteAct } from './taste-act.tsx'

/** What is done next with this patient, in the order of a visit; what lies behind is not offered again. */
export function Acts({ seen }: { seen: Seen }) {
  const performing = usePerform()
  return (
    <Card title={`Next, from “${STAGE_WORDS[seen.readiness.line.stage]}”`} tone="plain">
      <div className={styles.acts}>
        <Stage seen={seen} performing={performing} />
        <OutcomeBox outcome={performing.outcome} />
      </div>
    </Card>
  )
}

function Stage(props: ActProps) {
  switch (props.seen.readiness.line.stage) {
    case 'expected':
      return <Expected {...props} />
    case 'arrived':
      return <Arrived {...props} />
    case 'seated':
    case 'injected':
      return <InChair {...props} />
    case 'clamped':
      return <BeforeStart {...props} />
    case 'started':
      return <UnderWay {...props} />
    case 'finished':
      return <LeaveActs {...props} />
    case 'left':
      return <p>Nothing more here: the patient has left.</p>
  }
}

function Expected({ seen, performing }: ActProps) {
  return (
    <>
      <RoomActs seen={seen} performing={performing} />
      <MonitorAct seen={seen} performing={performing} />
      {can(seen.member.roles, 'day:change') ? (
        <ActButton
          kind="appointment.arrive"
          input={{ appointmentId: seen.facts.appointment.id }}
          performing={performing}
          size="main"
          done="Arrived."
        >
          Arrived
        </ActButton>
      ) : (
        <p>The desk says when the patient has arrived.</p>
      )}
    </>
  )
}

function Arrived({ seen, performing }: ActProps) {
  const { appointment, operatory } = seen.facts
  return (
    <>
      <RoomActs seen={seen} performing={performing} />
      <MonitorAct seen={seen} performing={performing} />
      <CompanionActs seen={seen} performing={performing} />
      <ConsentAct seen={seen} performing={performing} />
      <StayAct seen={seen} performing={performing} />
      <AftercareActs seen={seen} performing={performing} />
      <Who seen={seen} performing={performing} />
      <Offered seen={seen} needs="patient:identify" what="Seated" shut={shutAtSeat(seen)}>
        <ActButton
          kind="visit.seat"
          input={{ appointmentId: appointment.id }}
          performing={performing}
          size="main"
          tone="ink"
          done="Seated."
        >
          Seated
          <small>{operatoryWords(operatory?.name)}</small>
        </ActButton>
      </Offered>
    </>
  )
}

/** Who it is, once asked; else the question. */
function Who({ seen, performing }: ActProps) {
  const identity = seen.facts.visit?.identity
  if (identity) return <p className={styles.done}>Identity given to {seen.nameOf(identity.by)}</p>
  return (
    <Offered seen={seen} needs="patient:identify" what="Who it is">
      <Identify seen={seen} performing={performing} />
    </Offered>
  )
}

function InChair({ seen, performing }: ActProps) {
  return (
    <>
      <Who seen={seen} performing={performing} />
      <HistoryAct seen={seen} performing={performing} />
      <LineActs seen={seen} performing={performing} />
      <MonitorAct seen={seen} performing={performing} />
      <CompanionActs seen={seen} performing={performing} />
      <ConsentAct seen={seen} performing={performing} />
      <ReadBack seen={seen} performing={performing} />
      <LabelActs seen={seen} performing={performing} />
      <DoseActs seen={seen} performing={performing} />
      <StayAct seen={seen} performing={performing} />
      <RecountAct seen={seen} performing={performing} when="before" />
      <ClampActs seen={seen} performing={performing} />
      <InterruptActs seen={seen} performing={performing} />
    </>
  )
}

function RecountAct({ seen, performing, when }: ActProps & { when: 'before' | 'through' }) {
  const counted = recountOf(seen.facts)[when]
  const words = when === 'before' ? 'before the dam' : 'through the dam'
  if (!needsDamHere(seen)) return null
  if (counted !== null) return <p className={styles.done}>Teeth counted {words}</p>
  return (
    <Offered seen={seen} needs="dam:place" what={`Teeth counted ${words}`}>
      <ActButton
        kind="teeth.recount"
        input={{ appointmentId: seen.facts.appointment.id, when, saw: shownWork(seen.facts.work) }}
        performing={performing}
        done={`Teeth counted ${words}.`}
      >
        Teeth counted {words}
      </ActButton>
    </Offered>
  )
}

const needsDamHere = ({ facts }: Seen): boolean => (facts.plan?.agreed.sheets.length ?? 0) > 0

function ClampActs({ seen, performing }: ActProps) {
  // One gate after the other: what is not next is not asked about yet.
  if (nextGate(seen.facts) === 'inject' && seen.facts.doses.length === 0) {
    return (
      <p className={styles.aside}>{needsDamHere(seen) ? 'The clamp' : 'The start'} comes after the needle.</p>
    )
  }
  if (!needsDamHere(seen)) return <StartAct seen={seen} performing={performing} />
  return (
    <Offered seen={seen} needs="dam:place" what="Clamp on" shut={shutAt(seen, 'clamp')}>
      <ClampOn seen={seen} performing={performing} />
    </Offered>
  )
}

function StartAct({ seen, performing }: ActProps) {
  return (
    <>
      <Offered seen={seen} needs="work:start" what="Time-out" shut={shutToStudent(seen)}>
        <TimeOut seen={seen} performing={performing} />
      </Offered>
      <Offered seen={seen} needs="work:start" what="Started" shut={shutAt(seen, 'start')}>
        <ActButton
          kind="visit.start"
          input={{ appointmentId: seen.facts.appointment.id }}
          performing={performing}
          size="main"
          tone="ink"
          done="Started."
        >
          Started
        </ActButton>
      </Offered>
    </>
  )
}

function BeforeStart({ seen, performing }: ActProps) {
  return (
    <>
      <TasteAct seen={seen} performing={performing} />
      <Offered seen={seen} needs="dam:place" what="The dam as placed" shut={shutToPlacer(seen)}>
        <DamPlaced seen={seen} performing={performing} />
      </Offered>
      {recountOf(seen.facts).before === null ? (
        <RecountAct seen={seen} performing={performing} when="before" />
      ) : null}
      <RecountAct seen={seen} performing={performing} when="through" />
      <StartAct seen={seen} performing={performing} />
      <TopUp seen={seen} performing={performing} />
      <InterruptActs seen={seen} performing={performing} />
    </>
  )
}

/** Another injection once the clamp is on: read back and answered as the first was. */
function TopUp({ seen, performing }: ActProps) {
  if (!can(seen.member.roles, 'needle:use')) return null
  return (
    <details>
      <summary className={styles.more}>Another needle</summary>
      <div className={styles.act}>
        <ReadBack seen={seen} performing={performing} />
        <LabelActs seen={seen} performing={performing} />
        <DoseActs seen={seen} performing={performing} />
      </div>
    </details>
  )
}

function UnderWay({ seen, performing }: ActProps) {
  return (
    <>
      <TasteAct seen={seen} performing={performing} />
      <TopUp seen={seen} performing={performing} />
      <Offered seen={seen} needs="work:start" what="Finished">
        <ActButton
          kind="visit.finish"
          input={{ appointmentId: seen.facts.appointment.id }}
          performing={performing}
          size="main"
          tone="ink"
          done="Finished."
        >
          Finished
          <small>then count, look at the gum, and see the patient off</small>
        </ActButton>
      </Offered>
    </>
  )
}
