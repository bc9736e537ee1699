import type { Source } from '#shared/base/source.ts'

const MARKS: Record<Source['mark'], string> = {
  READ: 'read in the text',
  MEMORY: 'known from this work, to be checked against print',
  COMMON: 'common practice, no published source',
}

/** Where it stands, and how it is known. */
export function SourceWords({ source }: { source: Source }) {
  return <>{[source.where, MARKS[source.mark]].filter(Boolean).join(' · ')}</>
}
