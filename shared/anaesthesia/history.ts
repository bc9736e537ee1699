import { memory, read, type Source } from '../base/source.ts'
import type { Patient } from '../people/patient.ts'
import type { Agent, Label } from './anaesthetic.ts'
import { saysSedated } from './sedation.ts'

/** Heart and vessels in a history's own words (COMMON: no source says which words mean them). */
const HEART: readonly RegExp[] = [
  /\b(?:heart|cardi\w*|pericard\w*|endocard\w*|myocard\w*|coronar\w*|angina|infarct\w*|arr?h?ythmi\w*)\b/i,
  /\b(?:hypertens\w*|high (?:blood pressure|bp)|fibrillation|flutter|tachycardi\w*|bradycardi\w*)\b/i,
  /\b(?:pace-?maker|defibrillator|stents?|valves?|valvular|mitral|aort\w*|fallot|long qt|brugada)\b/i,
  /\b(?:strokes?|tia|cva|chest pains?)\b/i,
  /\b(?:MI|AF|CABG|CHF|CAD|IHD|ICD|STEMI|NSTEMI)\b/,
  /\b(?:blood pressure|bp)\D{0,12}(?:1[6-9]\d|2\d\d)\s*\/\s*\d{2,3}/i,
]
/** A whole item that only denies: it is not taken for the illness, nor for health. */
const DENIES = /^\s*(?:no|denies|denied|never|nil|without)\b(?!.*\b(?:but|except|since|now)\b)[^,;.]*$/i

/** What a history says of heart and vessels, and which items say neither: those nobody may take for "healthy". */
export function readHeart(patient: Pick<Patient, 'history'> | null): { isNamed: boolean; open: string[] } {
  const texts = (patient?.history ?? []).map(({ text }) => text)
  const isHeart = (text: string): boolean => !DENIES.test(text) && HEART.some((words) => words.test(text))
  return { isNamed: texts.some(isHeart), open: texts.filter((text) => !isHeart(text)) }
}

export const CAUTIONS = [
  'mao-inhibitor',
  'tricyclic',
  'beta-blocker',
  'cocaine',
  'sedation',
  'asthma',
  'methaemoglobin',
] as const
/** What a history names beside which a cartridge is the dentist's to weigh: no figure is printed. */
export type Caution = (typeof CAUTIONS)[number]

type Concerns = (label: Pick<Label, 'agent' | 'vasoconstrictor'>) => boolean
const hasCatecholamine: Concerns = ({ vasoconstrictor }) =>
  vasoconstrictor === 'epinephrine' || vasoconstrictor === 'levonordefrin'
const RAISES_METHAEMOGLOBIN: ReadonlySet<Agent> = new Set([
  'articaine',
  'lidocaine',
  'benzocaine',
  'tetracaine',
])

const OPIOIDS = /\b(?:opioids?|morphine|fentanyl|oxycodone|methadone)\b/i

interface CautionRow {
  words: Pick<RegExp, 'test'>
  concerns: Concerns
  source: Source
}
export const CAUTION_ROWS: Record<Caution, CautionRow> = {
  'mao-inhibitor': {
    words:
      /\b(?:maois?|mao[- ]inhibitors?|monoamine|phenelzine|tranylcypromine|isocarboxazid|moclobemide|selegiline|rasagiline)\b/i,
    concerns: hasCatecholamine,
    source: read('US label, articaine 4 % with epinephrine: drug interactions'),
  },
  tricyclic: {
    words:
      /\b(?:tricyclics?|amitriptyline|nortriptyline|imipramine|clomipramine|desipramine|doxepin|dosulepin|dothiepin|lofepramine|trimipramine|protriptyline)\b/i,
    concerns: hasCatecholamine,
    source: read('US label, articaine 4 % with epinephrine: drug interactions'),
  },
  'beta-blocker': {
    // Which of them a mere "beta blocker" is, is not known.
    words:
      /\b(?:beta[- ]?blockers?|β[- ]?blockers?|propranolol|nadolol|timolol|sotalol|carvedilol|labetalol|pindolol)\b|β[- ]?blocker/i,
    concerns: hasCatecholamine,
    source: memory('non-selective beta blockers with epinephrine'),
  },
  cocaine: {
    words: /\bcocaine\b/i,
    concerns: hasCatecholamine,
    source: memory('cocaine within 24 hours and vasoconstrictors'),
  },
  sedation: {
    words: { test: (text) => saysSedated(text) || OPIOIDS.test(text) },
    concerns: () => true,
    source: read(
      'AAPD, Use of Local Anesthesia for Pediatric Dental Patients, rev. 2020: lower with sedatives',
    ),
  },
  asthma: {
    words: /\basthma\w*\b/i,
    concerns: hasCatecholamine,
    source: memory('asthma and the sulfite beside a vasoconstrictor'),
  },
  methaemoglobin: {
    words: /meth?a?emoglobin/i,
    concerns: ({ agent }) => RAISES_METHAEMOGLOBIN.has(agent),
    source: read('US labels: methaemoglobinaemia, class warning'),
  },
}

/** Every caution that a history names for these cartridges, with the item that names it. */
export function cautionsOf(
  patient: Pick<Patient, 'history'> | null,
  labels: readonly Pick<Label, 'agent' | 'vasoconstrictor'>[],
): { why: Caution; text: string }[] {
  return CAUTIONS.flatMap((why) => {
    const { words, concerns } = CAUTION_ROWS[why]
    const item = patient?.history.find(({ text }) => words.test(text) && !DENIES.test(text))
    return item && labels.some(concerns) ? [{ why, text: item.text }] : []
  })
}
