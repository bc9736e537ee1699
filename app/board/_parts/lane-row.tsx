import type { DayOf } from '#app/_live/day-of.ts'
import { laneState, startsIn } from '#app/_live/shown.ts'
import { WeirButton } from '#app/_marks/weir-button.tsx'
import { Mark } from '#app/_ui/mark.tsx'
import { spanWords, timeOf } from '#app/_ui/time-words.ts'
import { addMinutes, dayOf, type Instant, minutesBetween } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import type { JudgedLane, JudgedLine } from '#shared/readiness/board-types.ts'
import { ACTOR_WORDS, STAGE_WORDS } from '#shared/words/en/states.ts'
import styles from './board.module.css'
import { TurnOver } from './turn-over.tsx'
import { WorkOf } from './work-of.tsx'

export interface LaneRowProps {
  lane: JudgedLane
  of: DayOf
  now: Instant
  /** Whether appointments open their plan page from here. */
  linked: boolean
}

export function LaneRow({ lane, of, now, linked }: LaneRowProps) {
  const next = lane.next[0]
  return (
    <li className={styles.lane} data-state={laneState(lane) ?? 'empty'}>
      <h2 className={styles.operatory}>
        <span className={styles.name}>{lane.name.replace(/^Operatory\s+/, '')}</span>
        <span className={styles.whose}>{whose(lane, of)}</span>
      </h2>
      <div className={styles.now}>
        {lane.now ? (
          <Running line={lane.now} of={of} now={now} linked={linked} />
        ) : (
          <Room lane={lane} of={of} now={now} />
        )}
      </div>
      {next ? (
        <Next line={next} of={of} now={now} linked={linked} />
      ) : (
        <p className={styles.none}>Nothing more today</p>
      )}
    </li>
  )
}

function whose(lane: JudgedLane, of: DayOf): string {
  const dentist = lane.dentistId ? of.names[lane.dentistId] : undefined
  if (dentist) return dentist
  if (lane.kind === 'hygiene') return 'Hygiene'
  return lane.kind === 'student' ? 'Student bay' : ''
}

function Room({ lane, of, now }: Pick<LaneRowProps, 'lane' | 'of' | 'now'>) {
  const since = isOfToday(lane.room.since, { of, now })
    ? ` since ${timeOf(lane.room.since, of.site.zone)}`
    : ''
  switch (lane.room.kind) {
    case 'clear':
      return <p className={styles.quiet}>Clear{since}</p>
    case 'turning-over':
      return (
        <>
          <p className={styles.quiet}>Being turned over{since}</p>
          {can(of.member.roles, 'tray:use') ? <TurnOver lane={lane} /> : null}
        </>
      )
    case 'closed':
      return <p className={styles.quiet}>Closed</p>
    case 'occupied':
      return <p className={styles.quiet}>Occupied{since}</p>
  }
}

/** A time of another day would be read as one of today. */
const isOfToday = (at: Instant | null, { of, now }: Pick<LaneRowProps, 'of' | 'now'>): at is Instant =>
  at !== null && at <= now && dayOf(at, of.site.zone) === of.day

function Running({ line, of, now, linked }: { line: JudgedLine; of: DayOf; now: Instant; linked: boolean }) {
  const calls = line.state === 'ask' || line.state === 'hold'
  return (
    <>
      <WorkOf line={line} notation={of.clinic.notation} linked={linked} />
      <p className={styles.stage}>{stageWords(line, now, of)}</p>
      {calls ? (
        <div className={styles.calling} data-state={line.state}>
          <Mark of={line.state} gate={line.gate} />
          <Turn line={line} of={of} />
          <p className={styles.says}>{line.says}</p>
        </div>
      ) : null}
    </>
  )
}

function stageWords(line: JudgedLine, now: Instant, of: DayOf): string {
  const zone = of.site.zone
  if (line.stage === 'started') {
    const end = addMinutes(line.stageSince, line.minutes)
    return `under way ${spanWords(minutesBetween(line.stageSince, now))} · expected end ${timeOf(end, zone)}`
  }
  if (line.stage === 'expected') return 'Not arrived yet'
  const gate = line.gate === null || line.stage === 'finished' ? '' : ` · next: ${line.gate}`
  return `${STAGE_WORDS[line.stage]} ${timeOf(line.stageSince, zone)}${gate}`
}

export function Next({
  line,
  of,
  now,
  linked,
}: {
  line: JudgedLine
  of: DayOf
  now: Instant
  linked: boolean
}) {
  const late = line.expectedStart !== line.start
  return (
    <>
      <div className={styles.next}>
        <p className={styles.time}>
          {timeOf(line.start, of.site.zone)}
          {late ? (
            <span className={styles.expected}>exp. {timeOf(line.expectedStart, of.site.zone)}</span>
          ) : null}
        </p>
        <WeirButton planks={line.planks} />
        <div className={styles.who}>
          <WorkOf line={line} notation={of.clinic.notation} linked={linked} words />
        </div>
      </div>
      <div className={styles.missing} data-state={line.state}>
        <Mark of={line.state} gate={line.gate} share={trayShare(line)} />
        <Turn line={line} of={of} />
        <p className={styles.says}>{line.says || stageWords(line, now, of)}</p>
      </div>
      <Countdown line={line} now={now} />
    </>
  )
}

/** The named owner, or whose turn it is by role. Nothing for a lane that waits for nobody. */
function Turn({ line, of }: { line: JudgedLine; of: DayOf }) {
  const name = line.owner ? of.names[line.owner] : undefined
  const text = name ?? (line.next === null ? undefined : ACTOR_WORDS[line.next])
  if (text === undefined || line.state === 'ready') return null
  return <span className={styles.turn}>{text}</span>
}

function trayShare(line: JudgedLine): number {
  const tray = line.planks.find((plank) => plank.state === 'preparing' && plank.of > 0)
  return tray ? tray.done / tray.of : 0.25
}

function Countdown({ line, now }: { line: JudgedLine; now: Instant }) {
  const start = startsIn(line, now)
  if (start.kind === 'due') return <p className={styles.minutes}>now</p>
  return (
    <p className={styles.minutes} data-late={start.kind === 'late' || undefined}>
      {start.minutes}
      <span>{start.kind === 'late' ? 'min late' : 'min'}</span>
    </p>
  )
}
