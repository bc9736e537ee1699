import type { Source } from '#shared/base/source.ts'
import type { PlannedSheet } from '#shared/isolation/plan-types.ts'
import type { FieldPolicy } from '#shared/isolation/policy.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'

/** Everywhere the policy's rows were read, with the mark of the first. */
export function sourceOf({ rows }: FieldPolicy): Source {
  const places = [...new Set(rows.map((row) => row.source.where))].filter(Boolean)
  return { where: places.join('; '), mark: rows[0]?.source.mark ?? 'COMMON' }
}

/** Holes by size, largest first. */
export function bySize({ holes }: Pick<PlannedSheet, 'holes'>): [number, Tooth[]][] {
  const sizes = [...new Set(holes.map((hole) => hole.size))].sort((a, b) => b - a)
  return sizes.map((size) => [size, holes.filter((hole) => hole.size === size).map((hole) => hole.tooth)])
}
