import type { Source } from '#shared/base/source.ts'
import type { FieldPolicyId } from '#shared/isolation/isolation-facts.ts'
import { FIELD_POLICIES } from '#shared/isolation/policy.ts'
import type { FieldClass } from '#shared/people/policy-set.ts'
import { SourceWords } from './source-words.tsx'

export const CLASS_WORDS: Record<FieldClass, string> = {
  'root-canal': 'Root canal work',
  'posterior-small': 'Small back filling',
  posterior: 'Back filling with a side',
  anterior: 'Front filling',
  cervical: 'Filling at the gum',
  sealant: 'Sealant',
  'primary-minimal': 'Work on primary teeth',
  'bonded-posterior': 'Bonded back restoration',
  veneer: 'Veneer',
  'crown-preparation': 'Crown preparation',
  bleaching: 'Bleaching in the chair',
}

/** Where a field policy is published. */
export function FieldSources({ policy }: { policy: FieldPolicyId }) {
  return <SourceList sources={sourcesOf(policy)} />
}

function sourcesOf(policy: FieldPolicyId): Source[] {
  const once = new Map(
    FIELD_POLICIES[policy].rows.map(({ source }) => [`${source.where} ${source.mark}`, source]),
  )
  return [...once.values()]
}

function SourceList({ sources }: { sources: Source[] }) {
  return sources.map((source, index) => (
    <span key={source.where}>
      {index > 0 ? '; ' : ''}
      <SourceWords source={source} />
    </span>
  ))
}
