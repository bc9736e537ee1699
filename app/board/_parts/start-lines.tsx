'use client'
import type { DayOf } from '#app/_live/day-of.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { PeopleFinding } from '#shared/people/findings.ts'
import { can } from '#shared/people/role.ts'
import { START_LINE_WORDS } from '#shared/words/en/people.ts'
import { say } from '#shared/words/en.ts'
import styles from './board.module.css'

/** What is still to be looked over today, and the two answers to each. */
export default function StartLines({ open, of }: { open: readonly PeopleFinding[]; of: DayOf }) {
  const performing = usePerform()
  const may = can(of.member.roles, 'tray:use')
  return (
    <section aria-labelledby="start-of-day" className={styles.startOfDay}>
      <h2 id="start-of-day">Start of the day</h2>
      <ul>
        {open.map((finding) =>
          finding.rule === 'site/not-looked-over' || finding.rule === 'site/not-in-order' ? (
            <li key={finding.about}>
              <p>{say(finding)}</p>
              {may
                ? [true, false].map((inOrder) => (
                    <ActButton
                      key={`${inOrder}`}
                      kind="site.look-over"
                      input={{ siteId: of.site.id, line: finding.line, inOrder }}
                      performing={performing}
                      done={`${START_LINE_WORDS[finding.line]}: kept.`}
                    >
                      {inOrder ? 'In order' : 'Not in order'}
                      <small>{START_LINE_WORDS[finding.line].toLowerCase()}</small>
                    </ActButton>
                  ))
                : null}
            </li>
          ) : null,
        )}
      </ul>
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}
