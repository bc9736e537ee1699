import type { ClinicId, PolicySetId } from '../ids.ts'
import type { PolicySet } from './policy-set.ts'

/**
 * What a clinic begins with where authorities differ; every pick is its own to change. Field picks follow the
 * published disagreements: a limited field for small work, a wide one where a proximal box is filled; the class
 * hole plus one at an anchor. Minutes are common practice without a source (COMMON): no peer-reviewed figure
 * for room turnover was found, 5–15 minutes are planned and the clinic measures its own.
 */
export const DEFAULT_POLICY_SET = {
  isolation: {
    field: {
      'root-canal': 'ENDO_SINGLE',
      'posterior-small': 'LIMITED_1D2M',
      posterior: 'HEMIARCH_OPP_CANINE',
      anterior: 'STURDEVANT_WIDE',
      cervical: 'STURDEVANT_WIDE',
      sealant: 'SECTOR_EXCEPT_SMALL',
      'primary-minimal': 'PAED_MIN',
      'bonded-posterior': 'HEMIARCH_OPP_CANINE',
      veneer: 'VENEER_P2_P2',
      'crown-preparation': 'SLIT',
      bleaching: 'BLEACH_ARCH',
    },
    holeScheme: 'S5',
    anchorHole: 'class-plus-one',
    includeThirdMolar: 'distal-surface-only',
    sheetMaterial: 'non-latex',
    untiedClampAllowed: false,
    // Six even steps of the range of ISO 16635-1; a clinic measures its own.
    plateMicrometres: [500, 920, 1340, 1760, 2180, 2600],
  },
  anaesthesia: {
    adultProfile: 'US-LABEL',
    childProfile: 'AAPD-2023',
    combine: 'lower-of-two',
    recheckMinutes: 30,
    weightMonths: null,
    notForBlocks: null,
  },
  allergies: { noneKnownMonths: 12, latexUnknownKit: 'non-latex' },
  trays: { claimQuietMinutes: 15, layOutMinutes: 10 },
  sterility: { packAge: { kind: 'event-related' }, sporeFailure: 'hold', turnaround: null },
  schedule: { turnoverMinutes: 10, lateAmberMinutes: 5, latePromptMinutes: 15 },
  word: { liveMinutes: 90, twoStepForStudents: true },
  clamps: null,
  ofDentists: null,
  help: null,
  lines: null,
} satisfies Omit<PolicySet, 'clinicId' | 'id'>

export const defaultPolicySet = (clinicId: ClinicId, id: PolicySetId): PolicySet => ({
  clinicId,
  id,
  ...DEFAULT_POLICY_SET,
})
