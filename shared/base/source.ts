/**
 * READ: seen in the text · MEMORY: known from the named work, verify against print ·
 * COMMON: common practice or arithmetic, no source; ships only as an editable default.
 */
export const MARKS = ['READ', 'MEMORY', 'COMMON'] as const
export type Mark = (typeof MARKS)[number]

/** Where a figure or a rule was found. `where` is empty for common practice. */
export interface Source {
  where: string
  mark: Mark
}

export interface Cited<T> {
  value: T
  source: Source
}

export const read = (where: string): Source => ({ where, mark: 'READ' })
export const memory = (where: string): Source => ({ where, mark: 'MEMORY' })
export const COMMON: Source = { where: '', mark: 'COMMON' }
