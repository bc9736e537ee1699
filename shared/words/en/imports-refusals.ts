import type { Sentences } from '../../base/rule.ts'
import type { ImportFinding } from '../../schedule/import-findings.ts'

export const IMPORT_REFUSALS = {
  'import/row-open': {
    says: ({ text }) => text,
    desk: ({ text }) => text,
  },
  'import/nothing-read': {
    says: () => 'The file holds nothing that can be taken. Nothing was changed. Bring another file.',
    desk: () => 'The file holds nothing that can be taken. Nothing was changed. Bring another file.',
  },
  'import/problem-unknown': {
    says: () =>
      'This row is not in the list to be settled. It may belong to another import. Open the list again.',
    desk: () =>
      'This row is not in the list to be settled. It may belong to another import. Open the list again.',
  },
  'import/problem-settled': {
    says: () =>
      'Somebody has settled this row already. Settling it twice could book a patient twice. Open the list again.',
    desk: () =>
      'Somebody has settled this row already. Settling it twice could book a patient twice. Open the list again.',
  },
  'import/address-unread': {
    says: () =>
      'This is no web address of a calendar. Nothing could be fetched from it. Enter one that begins with https:// or webcal://.',
    desk: () =>
      'This is no web address of a calendar. Nothing could be fetched from it. Enter one that begins with https:// or webcal://.',
  },
  'import/name-unknown': {
    says: ({ name }) =>
      `"${name}" does not point to an operatory or person of this clinic. Choose one from the list.`,
    desk: ({ name }) =>
      `"${name}" does not point to an operatory or person of this clinic. Choose one from the list.`,
  },
} satisfies Partial<Sentences<ImportFinding>>
