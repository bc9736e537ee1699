import type { Day } from '../base/moment.ts'
import { type Site, START_LINES, type StartLine } from './clinic.ts'
import type { PeopleFinding } from './findings.ts'

/** What nobody has looked over at a site that day, and what was found not to be in order and has not been since. */
export function judgeStartOfDay(
  { id, startOfDay }: Pick<Site, 'id' | 'startOfDay'>,
  day: Day,
): PeopleFinding[] {
  const said = startOfDay?.day === day ? startOfDay.lines : []
  const about = `site:${id}`
  const latest = (line: StartLine) => said.findLast((each) => each.line === line)
  return START_LINES.flatMap((line): PeopleFinding[] => {
    const look = latest(line)
    if (!look) return [{ rule: 'site/not-looked-over', level: 'ask', about: `${about}/${line}`, line }]
    return look.inOrder ? [] : [{ rule: 'site/not-in-order', level: 'ask', about: `${about}/${line}`, line }]
  })
}
