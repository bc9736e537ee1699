import type { KitLine } from './tray.ts'

/** A dentist's own list beside the clinic's, by name of line. */
export interface KitDifference {
  added: string[]
  leftOut: string[]
  /** Lines that both have, in another number or with another label. */
  otherwise: string[]
}

export function differOf(own: readonly KitLine[], clinics: readonly KitLine[]): KitDifference {
  const beside = new Map(clinics.map((line) => [line.item, line]))
  const items = new Set(own.map(({ item }) => item))
  return {
    added: own.filter(({ item }) => !beside.has(item)).map(({ name }) => name),
    leftOut: clinics.filter(({ item }) => !items.has(item)).map(({ name }) => name),
    otherwise: own.filter((line) => isOtherwise(line, beside.get(line.item))).map(({ name }) => name),
  }
}

const isOtherwise = (line: KitLine, clinics: KitLine | undefined): boolean =>
  clinics !== undefined &&
  (line.count !== clinics.count ||
    line.name !== clinics.name ||
    line.contents.latex !== clinics.contents.latex)
