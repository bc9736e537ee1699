import type { FieldPolicyId } from './isolation-facts.ts'

/** Field policies in words; what each exposes and where it is published: `policy.ts`. */
export const FIELD_POLICY_NAMES: Record<FieldPolicyId, string> = {
  ENDO_SINGLE: 'single tooth',
  STURDEVANT_WIDE: 'wide field to the opposite lateral incisor',
  LIMITED_1D2M: 'one distal and two mesial',
  ASSIST_RANGE: 'one or two distal, three or four mesial',
  ASSIST_ANT: 'canine to canine',
  CARDS_ANT: 'canine to canine, or one premolar clamped',
  BLACK_1908: 'six front teeth, two each side, or one distal and two or three mesial',
  DAVIS_1917: 'one distal, forward to the midline',
  MCGEHEE: 'both premolars and one, better two, behind',
  HEMIARCH_OPP_CANINE: 'second molar to the opposite canine',
  QUADRANT_POST: 'whole quadrant',
  ANT_P2_P2: 'second premolar to second premolar',
  SECTOR_EXCEPT_SMALL: 'single tooth for small work, else the sector',
  VENEER_P2_P2: 'second premolar to second premolar, both clamped',
  PAED_MIN: 'only the teeth needed, primary',
  PAED_QUAD: 'last molar to the primary canine',
  PAED_ANT: 'primary canine to canine, each ligated',
  SLIT: 'slit: two holes joined by a cut',
  SEAL_QUAD: 'most distal sealed molar to the first premolar or primary canine',
  BLEACH_ARCH: 'the bleached teeth and one each side',
  FULL_ARCH: 'whole arch in one sheet',
}
