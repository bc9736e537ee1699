import type { Caution } from '../../isolation/cautions.ts'
import { CLAMPS } from '../../isolation/clamps.ts'
import type { EndHold } from '../../isolation/ends.ts'
import type { StepName } from '../../isolation/guide-facts.ts'
import type { ClampFamily, PlacingPick, Sequence } from '../../isolation/isolation-facts.ts'
import type { Assumption } from '../../isolation/plan-types.ts'
import { FIELD_POLICY_NAMES } from '../../isolation/policy-names.ts'
import type { Step } from '../../isolation/steps.ts'
import type { Tooth } from '../../teeth/tooth.ts'

/** What the planner took as true without being told, in words. */
export function sayAssumption(assumption: Assumption): string {
  switch (assumption.kind) {
    case 'mouth-not-charted':
      return `The mouth is not charted: ${assumption.teeth.join(' ') || 'the treated teeth'} taken as standing, third molars as absent.`
    case 'age-unknown':
      return 'The age is not known.'
    case 'surfaces-unknown':
      return `The surfaces of ${assumption.tooth} are not known: taken as a filling between two teeth.`
    case 'latex-unknown':
      return 'Latex has not been answered: a non-latex sheet.'
    case 'policy-of-clinic':
      return `The clinic's own choice for this work: ${FIELD_POLICY_NAMES[assumption.policy]}.`
    case 'sheet-by-age':
      return `Sheet by age: ${assumption.sheet.widthMm} × ${assumption.sheet.heightMm} mm.`
    case 'arch-continued':
      return `${assumption.teeth.join(' ')}: the published arch is continued here; better marked in the mouth.`
  }
}

const CAUTIONS: Record<Caution, string> = {
  'nostrils-clear': 'Nostrils clear: lip and chin are covered, never the nose.',
  'hand-signal': 'Agree a hand signal. It will feel tight; a raised hand means it pinches.',
  'no-hole-in-root-canal-sheet': 'No breathing hole in this sheet. Fold or trim the nostril edge.',
  'count-teeth-before': 'Mark the tooth, or count from the midline, before the sheet hides its neighbours.',
  'leak-test': 'Test with a puddle of water before any irrigant.',
  'look-under-wings': 'Look under the wings of the clamp for leaks.',
  'taste-or-burn': 'Bad taste or burning: stop, rinse well, seal again.',
  'seal-clamp': 'Sealing paste or light-cured barrier round the clamp.',
  'gutta-percha-latex': 'Latex allergy: gutta-percha is of a related tree. Avoid overfilling.',
  'non-latex-sheet': 'Non-latex sheet, gloves and cups only.',
  'amalgam-spray-suction': 'Amalgam out: water spray and high-volume suction.',
  'gag-often-helped': 'Gagging is often helped by a dam.',
  'epilepsy-quick-release': 'Epilepsy: tied prop, tied clamp, quick release.',
  'clamp-tied': 'Floss through both holes of the clamp before it nears the mouth.',
  'four-points': 'All four points on the tooth; press the bow, it must not rock.',
  'bow-to-the-back': 'Bow to the back.',
  'retractor-jaw': 'Retractor: outer jaw 1 mm to the gum from the margin.',
  'prefer-cord-or-retractor': 'Cord with rolls did as well as a dam in one trial.',
  'shade-before': 'Choose the shade first: a dried tooth looks whiter.',
  'bridge-firm': 'Check that the bridge is firm. A loose bridge comes off first.',
  'half-erupted-two-tries': 'If the clamp fails twice: another way, with the reason.',
  'mark-in-mouth': 'Do not punch ahead: mark in the mouth. A pen on the tray.',
  'gingival-barrier': 'A light-cured barrier on the gum, with or without a dam.',
  'slit-no-bleach': 'A slit leaks: suction, and no bleach unless sealed.',
  'wire-in-the-way': 'A wire is in the way.',
  'asthma-inhaler': 'Asthma: inhaler at the chair.',
  'clamp-on-mandible': 'Look at the gum where the clamp sat, and note it.',
}
export const sayCaution = (caution: Caution): string => CAUTIONS[caution]

const STEPS: Record<StepName, (teeth: string, by: PlacingPick) => string> = {
  'tell-patient': () => 'Tell the patient: it will feel tight. Raise a hand if it pinches.',
  'tooth-aloud': (teeth) => `Say the tooth aloud and count to it: ${teeth}.`,
  'mark-occlusion': (teeth) => `Mark ${teeth} and the bite.`,
  'choose-shade': () => 'Choose the shade.',
  'floss-contacts': () => 'Floss every contact, without force. Smooth what is sharp.',
  'punch-clean': () => 'Punch. Draw the sheet over the punch: every hole cut clean through, no tag.',
  'mark-in-mouth': () => 'Mark the holes in the mouth, then punch.',
  'cut-slit': () => 'Join the two holes with scissors.',
  'lubricate-optional': () => 'Water-soluble lubricant on the tissue side, if wanted.',
  'tie-floss': (_, { flossCm, flossPath }) =>
    `Double the floss, ${flossCm} cm, and tie it through both holes of the clamp${flossPath === 'round-bow' ? ', round its bow' : ''}.`,
  'try-clamp': (teeth) => `Try the clamp on ${teeth}: four points, no rocking.`,
  'carry-together': (teeth) => `Clamp and sheet in one go to ${teeth}; slip the sheet off the wings.`,
  'clamp-then-sheet': (teeth) => `Clamp on ${teeth} first, then stretch the sheet over bow and jaws.`,
  'sheet-then-clamp': (teeth) => `Sheet over ${teeth} and held; a second person seats the clamp.`,
  'sheet-by-floss': (teeth) => `Sheet over ${teeth}, carried through the contacts by floss.`,
  'inner-jaw-first': () => 'Inner jaw first, on the tongue side, then the cheek side.',
  'no-gum-caught': () => 'No gum caught.',
  'bow-to-back': () => 'Bow to the back.',
  frame: (_, { frame }) =>
    `Frame ${frame} the sheet: curve to the chin, open ends to the eyes, pins outwards.`,
  'floss-tail-under-frame': () => "Floss tail under the frame, on the clamp's side.",
  'far-end-tied': (teeth) => `Steady the far end first: floss behind ${teeth}, held for its ligature.`,
  'far-end-wedged': (teeth) => `Steady the far end first: a wedge at ${teeth}.`,
  'far-end-first': (teeth) => `Steady the far end first: floss behind ${teeth}, then elastic cord.`,
  'tooth-by-tooth': () => 'Then tooth by tooth, floss through each contact.',
  'tie-ligatures': (teeth) => `Ligature round ${teeth}, knot on the lip side.`,
  'seat-retractor': (teeth) => `Retractor on ${teeth}, steadied by compound or resin.`,
  'tuck-edges': () => 'Dry, stretch, tuck every edge in. Re-seat the clamp with the sheet stretched.',
  seal: () => 'Seal where it gapes.',
  'leak-test': () => 'A puddle of water: wait, look under the wings.',
  'recount-through': (teeth) => `Count again through the sheet: ${teeth}.`,
  'check-pinch': () => 'Does it pinch? Then tell the dentist: more anaesthetic is theirs to give.',
  verify: () => 'No leak, no fold, nose free, gum not white, right tooth.',
  'take-out-ligatures': () => 'Take the ligatures out and count them.',
  'cut-septa': () => 'Stretch the sheet, finger under it, cut every septum.',
  'take-off-clamp': () => 'Take the clamp off.',
  'take-off-sheet': () => 'Take sheet and frame off together.',
  'lay-flat-count': () => 'Lay the sheet flat on a pale surface: every hole whole, no piece missing.',
  'look-at-gum': (teeth) => `Look at the gum${teeth === '' ? '' : ` at ${teeth}`}. Rinse warm.`,
}
/** A step in words, its teeth as this clinic numbers them; ISO 3950 where nothing is said. */
export const sayStep = ({ name, teeth, by }: Step, named: (tooth: Tooth) => string = String): string =>
  STEPS[name](teeth.map(named).join(' '), by)

/** A clamp by form alone. */
export const sayClamp = (family: ClampFamily): string => CLAMPS[family].value.form

export const END_WORDS: Record<EndHold, string> = {
  clamp: 'clamp',
  cord: 'elastic cord, contact flossed first',
  ligature: 'ligature',
  wedge: 'wedge',
}

/** How clamp and sheet went on. */
export const SEQUENCE_WORDS: Record<Sequence, string> = {
  together: 'clamp and sheet in one carry',
  'clamp-first': 'clamp first, the sheet over it',
  'dam-first': 'sheet first, the clamp over it',
}
