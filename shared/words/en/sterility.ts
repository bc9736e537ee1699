import type { Sentences } from '../../base/rule.ts'
import type { SterilityFinding } from '../../sterility/findings.ts'
import type { PackKind } from '../../sterility/sterility-facts.ts'

/** What a kind of set is called. */
export const KIND_WORDS: Record<PackKind, string> = {
  'dam-set': 'Dam set',
  'examination-set': 'Examination set',
  'composite-set': 'Composite set',
  'endodontic-set': 'Endodontic set',
  'surgical-set': 'Surgical set',
  'pulpotomy-set': 'Pulpotomy set',
  'hygiene-set': 'Hygiene set',
}

export const STERILITY_SENTENCES = {
  'pack/not-released': {
    says: ({ code, load }) =>
      `Pack ${code}: load ${load} is not released. It may not be sterile. Take another pack, or have the load released.`,
    desk: null,
  },
  'pack/held': { says: ({ code, why }) => `Pack ${code} is held: ${why}. Take another pack.`, desk: null },
  'pack/too-old': {
    says: ({ code, days, limit }) =>
      `Pack ${code} is ${days} days old; this clinic keeps packs ${limit} days. Send it to be reprocessed.`,
    desk: null,
  },
  'pack/age-unset': {
    says: ({ code }) =>
      `Pack ${code}: this clinic has not said how long packs keep. Have it set: by date, or until something breaches the pack.`,
    desk: null,
  },
  'sets/short': {
    says: ({ kind, short }) =>
      `${short} ${kind.replaceAll('-', ' ')}${short === 1 ? '' : 's'} short for this appointment. Run a load sooner, borrow, or move it.`,
    desk: () => 'This appointment may have to move. Ask the steriliser lead.',
  },
} satisfies Partial<Sentences<SterilityFinding>>
