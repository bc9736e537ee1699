import type { Seen } from '#app/_live/seen.ts'
import { Card, Row, Rows } from '#app/_ui/card.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { Why } from '#app/_ui/why.tsx'
import { rankClamps } from '#shared/isolation/clamp-stock.ts'
import { CLAMPS } from '#shared/isolation/clamps.ts'
import { SCHEMES } from '#shared/isolation/holes.ts'
import type { ClampFamily } from '#shared/isolation/isolation-facts.ts'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import { FIELD_POLICIES } from '#shared/isolation/policy.ts'
import { FIELD_POLICY_NAMES } from '#shared/isolation/policy-names.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { END_WORDS, sayClamp } from '#shared/words/en/plan.ts'
import { lookAlikesOf, mouthSeen } from './look-alikes.ts'
import { bySize, sourceOf } from './sheet-words.ts'
import { Steps } from './steps.tsx'

/** What is agreed to: field, anchor, holes, and what could be taken for it. */
export function PlanList({ seen }: { seen: Seen }) {
  const { plan } = seen.facts
  if (plan === null) {
    return (
      <Card title="Plan" tone="plain">
        <p>No plan yet: what is to be done is not recorded.</p>
      </Card>
    )
  }
  const { agreed, number } = plan
  return (
    <Card title={`Plan ${number}${agreed.state === 'draft' ? ', a draft' : ''}`} tone="plain">
      {agreed.state === 'not-needed' ? <p>No isolation needed for this appointment.</p> : null}
      {agreed.alternative ? <p>Instead of a dam: {agreed.alternative.replaceAll('-', ' ')}.</p> : null}
      {(seen.isolation?.sheets ?? []).map((sheet) => (
        <div key={sheet.field.join()}>
          <SheetRows sheet={sheet} seen={seen} />
          <Steps seen={seen} sheet={sheet} />
        </div>
      ))}
      <LookAlikes seen={seen} />
    </Card>
  )
}

function SheetRows({ sheet, seen }: { sheet: PlannedSheet; seen: Seen }) {
  const said = (teeth: readonly Tooth[]) => teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  const scheme = seen.facts.policy?.isolation.holeScheme ?? null
  const policy = FIELD_POLICIES[sheet.policy]
  return (
    <Rows>
      <Row term="Exposed">
        {said(sheet.field)} · {countWords(sheet.holes.length)}
        <Why rule={FIELD_POLICY_NAMES[sheet.policy]} source={sourceOf(policy)} />
      </Row>
      <Row term="Clamped">
        {sheet.clamps.length === 0 ? 'no clamp' : null}
        {sheet.clamps.map(({ tooth, family, role }) => (
          <div key={`${tooth} ${role}`}>
            <strong>{toothIn(tooth, seen.notation)}</strong>, {nameTooth(tooth)} · {sayClamp(family)}
            {role === 'anchor' ? ' · bow to the back' : ` · ${role}`}
            <Why rule={family} source={CLAMPS[family].source} />
            <OwnClamps tooth={tooth} family={family} seen={seen} />
          </div>
        ))}
      </Row>
      <Row term="Holes">
        {bySize(sheet)
          .map(([size, teeth]) => `${said(teeth)} size ${size}`)
          .join(' · ')}
        {scheme ? <Why rule={`punch scheme ${scheme}`} source={SCHEMES[scheme].source} /> : null}
      </Row>
      {sheet.slit.length > 0 ? <Row term="Slit">{said(sheet.slit)} in one opening</Row> : null}
      {sheet.ligated.length > 0 ? <Row term="Ligatures">{said(sheet.ligated)}</Row> : null}
      <Row term="Ends">
        {sheet.ends
          .map(({ tooth, hold }) => `${toothIn(tooth, seen.notation)}: ${END_WORDS[hold]}`)
          .join(' · ')}
      </Row>
    </Rows>
  )
}

/** What of the clinic's own stock can sit there, the best first, and why. */
function OwnClamps({ tooth, family, seen }: { tooth: Tooth; family: ClampFamily; seen: Seen }) {
  const ranked = rankClamps({ tooth, family }, seen.facts.policy?.clamps ?? [])
  if (ranked.length === 0) return null
  return (
    <p>
      Of our own:{' '}
      {ranked
        .slice(0, 3)
        .map(
          ({ clamp, why }) => `${clamp.mark} (${why === 'same-form' ? 'this form' : sayClamp(clamp.family)})`,
        )
        .join(', then ')}
    </p>
  )
}

const countWords = (holes: number): string => (holes === 1 ? 'one hole' : `${holes} holes`)

function LookAlikes({ seen }: { seen: Seen }) {
  const worked = workedTeeth(seen.facts)
  if (worked.length === 0) return null
  const exposed = seen.facts.plan?.agreed.sheets.flatMap((sheet) => sheet.field) ?? []
  const said = (teeth: readonly Tooth[]) => teeth.map((tooth) => toothIn(tooth, seen.notation)).join(', ')
  const alike = lookAlikesOf(worked, mouthSeen(seen))
  const others = exposed.filter((tooth) => alike.includes(tooth))
  return (
    <Rows>
      <Row term="Work on">
        <strong>
          {said(worked)} only{others.length > 0 ? `; not ${said(others)}` : ''}
        </strong>
      </Row>
      <Row term="Look-alikes">{said(alike)}</Row>
    </Rows>
  )
}
