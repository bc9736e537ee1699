import type { Version } from './appointment.ts'

/** RFC 5546: a higher sequence is newer, then a later stamp. What a source does not count cannot be older. */
export function compareVersions(one: Version, other: Version): number {
  if (one.sequence !== null && other.sequence !== null && one.sequence !== other.sequence)
    return one.sequence - other.sequence
  return one.stamp !== null && other.stamp !== null ? one.stamp - other.stamp : 0
}
/** One and the same version by a source that counts: a second content of it cannot be placed before or after the first. */
export const isSameVersion = (one: Version, other: Version): boolean =>
  one.sequence !== null && one.sequence === other.sequence && one.stamp === other.stamp
export const isOlder = (incoming: Version, known: Version): boolean => compareVersions(incoming, known) < 0
