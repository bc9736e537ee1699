import type { NeedOfIsolation } from '#shared/procedures/work.ts'

export const NEED_WORDS: Record<NeedOfIsolation, string> = {
  required: 'isolation required',
  'strongly-advised': 'isolation strongly advised',
  preferred: 'isolation preferred',
  optional: 'isolation optional',
  'not-needed': 'no isolation needed',
  barrier: 'a barrier needed, of which a dam is one',
  undetermined: 'need of isolation not known',
}
