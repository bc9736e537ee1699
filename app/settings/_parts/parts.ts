/** The pages of the settings, in the order in which a clinic is set up. */
export const PARTS = [
  'policies',
  'dentist-fields',
  'clamps',
  'people',
  'operatories',
  'kits',
  'lines',
  'help-cards',
  'names',
  'overrides',
] as const
export type Part = (typeof PARTS)[number]

export const PART_WORDS: Record<Part, string> = {
  policies: 'Policies',
  'dentist-fields': 'Fields by dentist',
  clamps: 'Clamps and punch',
  people: 'People',
  operatories: 'Operatories',
  kits: 'Kits',
  lines: 'Lines before the needle',
  'help-cards': 'Help cards',
  names: 'Names in files',
  overrides: 'Overrides',
}

export const findPart = (text: string): Part | null => PARTS.find((part) => part === text) ?? null
