import type { AnaesthesiaFinding } from '../../anaesthesia/findings.ts'
import type { Sentences } from '../../base/rule.ts'

export const ANAESTHESIA_REFUSALS = {
  'cartridge/expired': {
    says: ({ expires }) =>
      `This cartridge was to be used by ${expires}. What is past its day may not work as it should. Nothing was recorded: put it aside and read another.`,
    desk: null,
  },
  'cartridge/same-person': {
    says: () =>
      'You read this label yourself. One person alone overlooks what two would see. Let another person hear it and answer.',
    desk: null,
  },
  'cartridge/nothing-read': {
    says: () =>
      'No label waits for an answer here, or another was read since. An answer belongs to the label that was heard. Read it again.',
    desk: null,
  },
  'dose/instructor-first': {
    says: ({ tenths }) =>
      `This would make ${(tenths / 10).toFixed(1)} cartridges today. A third cartridge in a student's hands is the instructor's to give and record.`,
    desk: null,
  },
  'dose/none-intended': {
    says: ({ reason }) =>
      `No injection was intended here: ${reason}. What is given and what is intended must agree. Let the dentist enter the injection first.`,
    desk: null,
  },
  'dose/visit-not-seated': {
    says: () =>
      'The patient is not in the chair. A dose belongs to a visit under way. Seat the patient first.',
    desk: () => 'Seat the patient first',
  },
  'numbness/not-seated': {
    says: () =>
      'The patient is not in the chair. An answer belongs to a visit under way. Seat the patient first.',
    desk: () => 'Seat the patient first',
  },
} satisfies Partial<Sentences<AnaesthesiaFinding>>
