import { archOf } from '../teeth/tooth.ts'
import type { Caution } from './cautions.ts'
import { isEndodontic } from './field.ts'
import type { NoteSigns } from './notes.ts'
import type { IsolationPlan, PlanRequest } from './plan-types.ts'

export interface CautionsFor {
  request: PlanRequest
  signs: NoteSigns
  plan: Pick<IsolationPlan, 'sheets' | 'findings' | 'state'>
}

type Test = (given: CautionsFor) => boolean

const hasKind =
  (...kinds: string[]): Test =>
  ({ request }) =>
    request.work.some(({ kind }) => kinds.includes(kind))
const hasFinding =
  (rule: string): Test =>
  ({ plan }) =>
    plan.findings.some((finding) => finding.rule === rule)
const isRootCanal: Test = ({ request }) =>
  request.work.some(({ kind }) => kind !== 'undetermined' && isEndodontic(kind))
const hasDam: Test = ({ plan }) => plan.sheets.length > 0
const hasClamp: Test = ({ plan }) => plan.sheets.some(({ clamps }) => clamps.length > 0)
const isSingle: Test = ({ plan }) => plan.sheets.some(({ field }) => field.length === 1)
const hasLatex: Test = ({ request }) => request.latex === 'confirmed' || request.latex === 'suspected'
const both =
  (...tests: Test[]): Test =>
  (given) =>
    tests.every((test) => test(given))

/** Which caution is shown when, in the order in which the chair needs them. */
const SHOWN: readonly [Caution, Test][] = [
  ['hand-signal', hasDam],
  ['nostrils-clear', hasDam],
  ['asthma-inhaler', ({ signs }) => signs.breathing === 'asthma' || signs.breathing === 'lungs'],
  ['no-hole-in-root-canal-sheet', both(hasDam, isRootCanal)],
  ['non-latex-sheet', hasLatex],
  ['gutta-percha-latex', both(hasLatex, hasKind('root-canal', 'retreatment'))],
  ['count-teeth-before', isSingle],
  ['clamp-tied', hasClamp],
  ['four-points', hasClamp],
  ['bow-to-the-back', hasClamp],
  ['half-erupted-two-tries', hasFinding('anchor/may-not-hold')],
  ['bridge-firm', hasFinding('anchor/abutment')],
  ['wire-in-the-way', hasFinding('field/wire')],
  ['mark-in-mouth', hasFinding('sheet/mark-in-mouth')],
  [
    'retractor-jaw',
    ({ plan }) => plan.sheets.some(({ clamps }) => clamps.some(({ role }) => role === 'retractor')),
  ],
  ['prefer-cord-or-retractor', hasKind('cervical-composite')],
  ['shade-before', both(hasDam, hasKind('direct-composite', 'cervical-composite', 'veneer'))],
  ['amalgam-spray-suction', hasKind('amalgam-removal')],
  ['leak-test', both(hasDam, isRootCanal)],
  ['look-under-wings', both(hasClamp, isRootCanal)],
  ['taste-or-burn', both(hasDam, isRootCanal)],
  ['seal-clamp', both(hasClamp, isRootCanal)],
  ['slit-no-bleach', ({ plan }) => plan.sheets.some(({ slit }) => slit.length > 0)],
  ['gingival-barrier', hasKind('in-office-bleaching')],
  ['gag-often-helped', ({ signs }) => signs.gag],
  ['epilepsy-quick-release', ({ signs }) => signs.epilepsy],
  [
    'clamp-on-mandible',
    ({ plan }) => plan.sheets.some(({ clamps }) => clamps.some(({ tooth }) => archOf(tooth) === 'lower')),
  ],
]

export const listCautions = (given: CautionsFor): Caution[] =>
  SHOWN.filter(([, test]) => test(given)).map(([caution]) => caution)
