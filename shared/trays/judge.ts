import type { Instant } from '../base/moment.ts'
import type { PolicySet } from '../people/policy-set.ts'
import { type Appointment, hasReached, type VisitStage } from '../schedule/appointment.ts'
import type { TrayFinding } from './findings.ts'
import { isQuiet, startBy } from './lifecycle.ts'
import type { Tray } from './tray.ts'

/** What a tray is judged by. Its own lines are not needed: the tray carries their summary. */
export interface TraySight {
  appointment: Pick<Appointment, 'start'>
  stage: VisitStage
  policy: Pick<PolicySet, 'trays'> | null
  now: Instant
}

const isSeated = (stage: VisitStage): boolean => hasReached(stage, 'seated')
/** From here on no time is left: the booked start is here, or the patient sits. */
const isDue = ({ appointment, stage, now }: TraySight): boolean => now >= appointment.start || isSeated(stage)

/** What stands open on a tray. Without a policy no time is known to be left, so work nobody owns is asked at once. */
export function judgeTray(tray: Tray, sight: TraySight): TrayFinding[] {
  const about = `tray:${tray.id}`
  const standby: TrayFinding[] =
    tray.standby && tray.life.kind !== 'cleared' ? [{ rule: 'tray/standby', level: 'note', about }] : []
  return [...judgeLife(tray, { ...sight, about }), ...standby]
}

function judgeLife(tray: Tray, sight: TraySight & { about: string }): TrayFinding[] {
  const { life, done, of } = tray
  const { about, now, policy } = sight
  switch (life.kind) {
    case 'needed':
      return [unowned(sight)]
    case 'claimed':
      return isQuiet(tray, policy, now)
        ? [
            {
              rule: 'tray/claim-quiet',
              level: 'note',
              about,
              by: life.by,
              since: life.since,
              touched: life.touched,
            },
            unowned(sight),
          ]
        : [judgeOwned(life, { done, of, ...sight })]
    case 'laid-out':
      return judgeLaidOut(tray, { ...sight, by: life.by })
    case 'held':
      return [{ rule: 'tray/held', level: 'stop', about, why: life.why, instead: life.instead ?? [] }]
    case 'checked':
      return [...judgeLines(tray, about), ...judgeUnopened(tray, sight)]
    case 'opened':
      return judgeLines(tray, about)
    default:
      return []
  }
}

/** Waiting is no trouble while there is time to lay it out; after that it is asked who will. */
function unowned({ appointment, stage, policy, now, about }: TraySight & { about: string }): TrayFinding {
  const by = policy === null ? now : startBy(appointment, policy)
  return now >= by || isSeated(stage)
    ? { rule: 'tray/unowned', level: 'ask', about, startBy: by }
    : { rule: 'tray/waiting', level: 'note', about, startBy: by }
}

type Owned = Extract<Tray['life'], { kind: 'claimed' }>

/** Somebody is at it: enough while there is time, and no tray once there is none. */
function judgeOwned(
  { by, since }: Owned,
  { about, done, of, ...sight }: TraySight & { about: string; done: number; of: number },
): TrayFinding {
  return isDue(sight)
    ? { rule: 'tray/not-laid-out', level: 'ask', about, by, done, of }
    : { rule: 'tray/being-laid', level: 'note', about, by, since, done, of }
}

/** Packs are proven when they are opened, at the chair. A kit on standby stays shut until the dentist chooses. */
const judgeUnopened = ({ standby }: Tray, { stage, about }: TraySight & { about: string }): TrayFinding[] =>
  standby || !isSeated(stage) || hasReached(stage, 'finished')
    ? []
    : [{ rule: 'tray/not-opened', level: 'ask', about }]

function judgeLines({ done, of, firstMissing }: Tray, about: string): TrayFinding[] {
  return firstMissing === null
    ? []
    : [{ rule: 'tray/line-missing', level: 'ask', about, done, of, missing: firstMissing }]
}

function judgeLaidOut(
  tray: Tray,
  {
    about,
    by,
    ...sight
  }: TraySight & { about: string; by: Extract<Tray['life'], { kind: 'laid-out' }>['by'] },
): TrayFinding[] {
  const missing = judgeLines(tray, about)
  const recheck = tray.life.kind === 'laid-out' ? tray.life.recheck : null
  if (recheck !== null) return [...missing, { rule: 'tray/recheck', level: 'ask', about, ...recheck }]
  if (missing.length > 0) return missing
  return isDue(sight)
    ? [{ rule: 'tray/not-checked', level: 'ask', about, by }]
    : [{ rule: 'tray/awaits-check', level: 'note', about, by }]
}
