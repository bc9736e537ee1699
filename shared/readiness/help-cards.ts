import { COMMON, type Source } from '../base/source.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { HelpKind } from './help.ts'

/**
 * A general list for each call, until the clinic writes its own: who is told, what is held, what is written down. It
 * names no medicine and no amount. (COMMON: common practice, no source.)
 */
export const GENERAL_CARDS: Record<HelpKind, readonly string[]> = {
  'lost-clamp': [
    'Stop. Nothing more goes into the mouth.',
    'Is the patient breathing freely? If not: the clinic’s emergency number.',
    'Look in the mouth, under the sheet, in the suction, on the floor.',
    'Keep every piece and lay it against what is missing.',
    'Tell the patient what happened.',
    'Not found: the dentist decides where the patient is referred.',
  ],
  'bleach-on-tissue': [
    'Stop the irrigation. Suction on.',
    'Eyes or skin: rinse with water, and go on rinsing.',
    'Tell the patient what happened.',
    'The dentist looks and decides what is done.',
    'Draw or photograph what is seen.',
    'Who phones the patient, and when.',
  ],
  'anaesthetic-reaction': [
    'Stop. Needle away.',
    'Call a second person. Emergency kit and oxygen to the chair.',
    'Breathing, pulse and skin looked at.',
    'Not better at once: the clinic’s emergency number.',
    'What was given, how much and when, written down for whoever comes.',
    'Someone stays with the patient.',
  ],
  collapse: [
    'Call a second person. Emergency kit, oxygen and defibrillator to the chair.',
    'Everything out of the mouth: dam, clamp, cotton, suction.',
    'Chair flat. Breathing and pulse looked at.',
    'The clinic’s emergency number is called.',
    'Someone waits at the door for whoever comes.',
    'Times written down by one person.',
  ],
  'taste-or-burn': [
    'Stop. Suction on.',
    'Look where the seal is lost.',
    'Rinse, and ask again.',
    'Seal anew, or take the dam off.',
    'The dentist looks at the gum and the throat.',
  ],
}

export interface HelpCard {
  steps: readonly string[]
  /** Null where the clinic wrote it. */
  general: Source | null
}

/** The clinic's own card where it has written one, else the general list. */
export function cardFor(kind: HelpKind, policy: Pick<PolicySet, 'help'> | null): HelpCard {
  const own = policy?.help?.[kind] ?? []
  return own.length > 0 ? { steps: own, general: null } : { steps: GENERAL_CARDS[kind], general: COMMON }
}
