import type { Sentences } from '../../base/rule.ts'
import { CLAMPS } from '../../isolation/clamps.ts'
import type { IsolationFinding } from '../../isolation/findings.ts'
import { FIELD_POLICY_NAMES } from '../../isolation/policy-names.ts'
import type { ToothCondition } from '../../teeth/mouth-chart.ts'
import type { Tooth } from '../../teeth/tooth.ts'

export const list = (teeth: readonly Tooth[]): string => teeth.join(' ')

const CONDITION: Record<ToothCondition, string> = {
  present: 'is present',
  missing: 'is missing',
  unerupted: 'has not erupted',
  'partly-erupted': 'is half erupted',
  'ceramic-crown': 'has a ceramic crown',
  'metal-crown': 'has a metal crown',
  pontic: 'is a pontic',
  abutment: 'carries a bridge',
  implant: 'is an implant crown',
  bracketed: 'has a bracket',
  banded: 'has a band',
  'broken-down': 'is broken down',
  mobile: 'is mobile',
  malposed: 'stands out of line',
}

const BREATHING = {
  nose: 'The nose may be blocked.',
  asthma: 'Asthma is noted.',
  lungs: 'An inhaler or the lungs are noted.',
  panic: 'Fear of the sheet is noted.',
} as const

const LATEX = {
  confirmed: 'A latex allergy is confirmed',
  suspected: 'A latex allergy is suspected',
  'not-known': 'Latex has not been answered',
} as const

/** The desk hears of isolation only as time to allow or a form to hand. */
export const ISOLATION_SENTENCES = {
  'mouth/not-charted': {
    says: () => 'The mouth is not charted. Count the teeth before punching.',
    desk: null,
  },
  'field/tooth-not-standing': {
    says: ({ tooth }) =>
      `${tooth} is to be treated but the chart does not show it as there. Which tooth is meant?`,
    desk: null,
  },
  'field/no-tooth': { says: () => 'The booking names no tooth. Which tooth?', desk: null },
  'field/policy-silent': {
    says: ({ tooth, policy, used }) =>
      `"${FIELD_POLICY_NAMES[policy]}" says nothing of ${tooth}. Drawn as "${FIELD_POLICY_NAMES[used]}": is that right?`,
    desk: null,
  },
  'field/wire': {
    says: ({ teeth }) => `A wire runs at ${list(teeth)}. Slit sheet, wire off, or another way?`,
    desk: () => 'Allow extra time.',
  },
  'field/contact-closed': {
    says: ({ teeth }) =>
      `Floss does not pass between ${teeth.join(' and ')}. One hole for both, a slit, or try again?`,
    desk: null,
  },
  'anchor/ceramic-crown': {
    says: ({ tooth }) =>
      `${tooth} would be clamped and has a ceramic crown. Accept it with a clamp that is not metal, or move?`,
    desk: null,
  },
  'anchor/unsuitable': {
    says: ({ tooth, why }) =>
      `${tooth} would be clamped but ${CONDITION[why]}, and no other tooth can take its place. Accept, or no clamp?`,
    desk: null,
  },
  'anchor/distal-of-last': {
    says: ({ tooth }) =>
      `${tooth} is clamped and its far surface is worked on. Which clamp: jaw extended to the back, or wingless seated low?`,
    desk: null,
  },
  'anchor/broken-down': {
    says: ({ tooth }) => `${tooth} is broken down. Build up first, band, clamp a neighbour, or no dam?`,
    desk: null,
  },
  'breathing/choice': {
    says: ({ why }) =>
      `${BREATHING[why]} Fold or trim the nostril edge, another way, or another day? No hole in the sheet of a root canal.`,
    desk: () => 'Allow extra time.',
  },
  'alternative/needed': {
    says: () => 'No dam today: another way to keep the field dry, with its reason, or another day.',
    desk: null,
  },
  'anchor/moved': {
    says: ({ from, to, why }) => `The clamp goes on ${to}: ${from} ${CONDITION[why]}.`,
    desk: null,
  },
  'anchor/working-tooth': {
    says: ({ tooth, behind }) =>
      behind === null
        ? `No tooth stands behind ${tooth}. The clamp goes on the treated tooth.`
        : `${behind} behind ${tooth} is left out of this field. The clamp goes on the treated tooth.`,
    desk: null,
  },
  'anchor/matrix': {
    says: ({ tooth }) => `A matrix goes on ${tooth}, which is clamped: jaws inside the line angles.`,
    desk: null,
  },
  'anchor/may-not-hold': {
    says: ({ tooth, why }) => `${tooth} ${CONDITION[why]}: the clamp may not hold.`,
    desk: null,
  },
  'anchor/abutment': {
    says: ({ tooth }) => `${tooth} carries a bridge. Check that the bridge is firm before the clamp.`,
    desk: null,
  },
  'anchor/gum-before': {
    says: ({ tooth, day, gum }) =>
      `The gum at ${tooth} was ${gum} under a clamp on ${day}. Look at it before the clamp.`,
    desk: null,
  },
  'anchor/passed-over-before': {
    says: ({ tooth, day, instead }) =>
      `A clamp planned on ${tooth} on ${day} ${instead.length === 0 ? 'was not put on' : `went on ${instead.join(' and ')}`}. Look whether it will hold this time.`,
    desk: null,
  },
  'clamp/none-in-stock': {
    says: ({ tooth, family }) =>
      `No clamp of our own fits ${tooth} (${CLAMPS[family].value.form}). Another form, another tooth, or borrow one.`,
    desk: null,
  },
  'field/pontic': {
    says: ({ teeth }) => `A bridge lies between ${teeth.join(' and ')}: one slit, no hole for the pontic.`,
    desk: null,
  },
  'sheet/mark-in-mouth': {
    says: ({ teeth }) =>
      `${list(teeth)} out of line: the drawing is an outline. Do not punch ahead, mark in the mouth.`,
    desk: null,
  },
  'sheet/fold': {
    says: ({ teeth, centreMm, naturalMm }) =>
      `Holes ${teeth.join(' and ')} are ${centreMm} mm apart from centre to centre, the teeth ${naturalMm} mm: the sheet will bunch.`,
    desk: null,
  },
  'sheet/slit-length': {
    says: ({ mm }) => `The ends of the slit are ${mm} mm apart; 10 to 15 mm is usual.`,
    desk: null,
  },
  'sheet/made-non-latex': {
    says: ({ why }) => `${LATEX[why]}: the sheet is non-latex.`,
    desk: null,
  },
  'punch/outside-iso': {
    says: ({ mm, what }) =>
      what === 'hole'
        ? `A hole of ${mm} mm is outside ISO 16635-1 (0.5 to 2.6 mm).`
        : `A punch of ${mm} mm is outside ISO 16635-1 (165 ± 5 mm).`,
    desk: null,
  },
  'sheet/septum-narrow': {
    says: ({ teeth, mm, leastMm, measure }) =>
      measure === 'edge-to-edge'
        ? `Only ${mm} mm of rubber, edge to edge, between ${teeth.join(' and ')}: too narrow, it will leak. Keep ${leastMm} mm or more.`
        : `Holes ${teeth.join(' and ')} are only ${mm} mm apart from centre to centre: too narrow, it will leak. Keep ${leastMm} mm or more.`,
    desk: null,
  },
  'sheet/latex-refused': {
    says: ({ latex }) =>
      `${LATEX[latex]}: a latex sheet is refused. Choose non-latex, or record the answer about latex first.`,
    desk: null,
  },
  'alternative/no-reason': {
    says: () => 'Another way than a dam needs a reason. Say why, then choose again.',
    desk: null,
  },
} satisfies Partial<Sentences<IsolationFinding>>
