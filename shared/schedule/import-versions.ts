import type { Version } from './appointment.ts'

/** RFC 5546: a higher sequence is newer, then a later stamp. What a source does not count cannot be older. */
export function compareVersions(one: Version, other: Version): number {
  if (one.sequence !== null && other.sequence !== null && one.sequence !== other.sequence)
    return one.sequence - other.sequence
  return one.stamp !== null && other.stamp !== null ? one.stamp - other.stamp : 0
}
export const isOlder = (incoming: Version, known: Version): boolean => compareVersions(incoming, known) < 0
