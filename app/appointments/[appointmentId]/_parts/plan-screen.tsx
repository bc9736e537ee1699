'use client'
import { HelpCards } from '#app/_help/help-cards.tsx'
import { AppointmentHolder, type AppointmentHolderProps } from '#app/_live/appointment-holder.tsx'
import { APPOINTMENT_GONE, useSeen } from '#app/_live/use-seen.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { OpenFindings } from '#app/_ui/outcome-box.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { PastPlacing } from '#shared/isolation/past.ts'
import { Acts } from './acts.tsx'
import { AddedHere } from './added-here.tsx'
import { BeforeList } from './before-list.tsx'
import { Cautions } from './cautions.tsx'
import choices from './choices.module.css'
import { ChooseOtherwise } from './choose-otherwise.tsx'
import { DrawFirst } from './draw-first.tsx'
import { DrawnFirst } from './drawn-first.tsx'
import { FindingList } from './finding-list.tsx'
import { LastTime } from './last-time.tsx'
import { Mouth } from './mouth.tsx'
import styles from './plan.module.css'
import { PlanHead } from './plan-head.tsx'
import { PlanList } from './plan-list.tsx'
import { Sheets } from './sheets.tsx'
import { Standing } from './standing.tsx'
import { StopButton } from './stop-button.tsx'
import { Story } from './story.tsx'
import { TakenOver } from './taken-over.tsx'
import { TwoPolicies } from './two-policies.tsx'
import { WaitsElsewhere } from './waits-elsewhere.tsx'
import { WordPart } from './word-part.tsx'
import { WorkPart } from './work-part.tsx'

export interface PlanScreenProps extends AppointmentHolderProps {
  /** Sheets this patient wore at other visits. */
  past: readonly PastPlacing[]
}

export function PlanScreen(props: PlanScreenProps) {
  return (
    <AppointmentHolder {...props}>
      <PlanPage {...props} />
    </AppointmentHolder>
  )
}

function PlanPage({ appointmentId, member, past }: PlanScreenProps) {
  const { world } = useWorld()
  const seen = useSeen({ appointmentId, member })
  if (!seen) return <TroubleBox trouble={APPOINTMENT_GONE} />
  const drawsFirst = seen.isPutAway
  const sizes = world.policySet[0]?.isolation.plateMicrometres.length ?? 0
  const isNamed = seen.facts.work.every(({ kind }) => kind !== 'undetermined')
  return (
    <OpenFindings value={seen.readiness.open}>
      <article className={styles.page}>
        <WaitsElsewhere seen={seen} />
        <PlanHead seen={seen} />
        {drawsFirst ? null : <TakenOver seen={seen} />}
        <Standing seen={seen} />
        <StopButton seen={seen} />
        <HelpCards seen={seen} />
        <div className={styles.columns}>
          <div className={styles.column}>
            {drawsFirst ? <DrawFirst seen={seen} sizes={sizes} /> : <Sheets seen={seen} />}
          </div>
          <div className={styles.column}>
            {isNamed ? null : <WorkPart seen={seen} />}
            <DrawnFirst seen={seen} />
            {drawsFirst ? null : <PlanList seen={seen} />}
            <FindingList seen={seen} />
            <Cautions seen={seen} />
            {isNamed ? <WorkPart seen={seen} /> : null}
            {drawsFirst ? null : <ChooseOtherwise seen={seen} />}
            {drawsFirst ? null : <LastTime seen={seen} past={past} />}
          </div>
          <div className={styles.column}>
            {drawsFirst ? null : <WordPart seen={seen} />}
            <AddedHere seen={seen} />
            <Acts seen={seen} />
            <BeforeList seen={seen} />
          </div>
        </div>
        <div className={choices.wide}>
          {drawsFirst ? null : <TwoPolicies seen={seen} />}
          <Mouth seen={seen} />
          <Story seen={seen} />
        </div>
        <CautionLine />
      </article>
    </OpenFindings>
  )
}
