import type { Sentences } from '../../base/rule.ts'
import type { TrayFinding } from '../../trays/findings.ts'
import type { TrayState } from '../../trays/lifecycle.ts'

/** Where a tray stands, in a word or two. */
export const STATE_WORDS: Record<TrayState, string> = {
  needed: 'waiting',
  claimed: 'claimed',
  'laid-out': 'laid out',
  checked: 'checked',
  opened: 'opened',
  'counted-back': 'counted back',
  cleared: 'cleared',
  held: 'held',
}

export const TRAY_SENTENCES: Sentences<TrayFinding> = {
  'tray/unowned': { says: () => 'Nobody has this tray. It should have been begun. Claim it.', desk: null },
  'tray/waiting': { says: () => 'The tray waits to be claimed.', desk: null },
  'tray/being-laid': { says: ({ done, of }) => `The tray is being laid out: ${done} of ${of}.`, desk: null },
  'tray/claim-quiet': {
    says: () => 'The claim on this tray has gone quiet. Anyone may claim it.',
    desk: null,
  },
  'tray/line-missing': { says: ({ done, of, missing }) => `${done} of ${of}: ${missing}.`, desk: null },
  'tray/not-laid-out': {
    says: ({ done, of }) => `The patient is due and the tray is not laid out: ${done} of ${of}.`,
    desk: null,
  },
  'tray/awaits-check': { says: () => 'The tray is laid out and waits to be checked.', desk: null },
  'tray/not-checked': { says: () => 'The tray has not been checked.', desk: null },
  'tray/not-opened': {
    says: () =>
      'The packs on the tray are not opened yet. What is in them is proven at opening: outside, outer and inner mark. Open them at the chair.',
    desk: null,
  },
  'tray/recheck': {
    says: ({ added, removed }) =>
      `Re-check the tray: ${[...added.map((name) => `+ ${name}`), ...removed.map((name) => `- ${name}`)].join(', ')}.`,
    desk: null,
  },
  'tray/held': {
    says: ({ why, instead }) =>
      instead.length === 0
        ? `The tray is held: ${why}. Claim it and replace what is held.`
        : `The tray is held: ${why}. Claim it and take ${instead.join(' and ')} in its place.`,
    desk: null,
  },
  'tray/standby': { says: () => 'A sealed dam kit stands by until the dentist chooses.', desk: null },
  'tray/not-found': {
    says: () => 'This tray is not here any more. Nothing was changed. Open the appointment again.',
    desk: null,
  },
  'tray/line-not-found': {
    says: () =>
      'This line is not on the tray any more: the plan may have changed. Nothing was changed. Look at the tray again.',
    desk: null,
  },
  'tray/not-now': {
    says: ({ state }) =>
      `The tray is ${STATE_WORDS[state]}, so this cannot be done now. Nothing was changed. Look at the tray again.`,
    desk: null,
  },
  'tray/claimed-by-other': {
    says: () =>
      'Somebody else has this tray. Two would lay it out twice. Ask for it, or take it over with a reason.',
    desk: null,
  },
  'tray/not-owner': {
    says: () => 'Somebody else has this tray. Only they can do this. Take it over with a reason.',
    desk: null,
  },
  'tray/receiver-not-allowed': {
    says: () => 'This person may not lay out trays. The tray stays with you. Choose somebody else.',
    desk: null,
  },
  'tray/not-inspected': {
    says: ({ line }) =>
      `${line}: not looked over. A cracked clamp can break in the mouth. Look for rust, cracks and bends, put floss through both holes, then tick it.`,
    desk: null,
  },
  'tray/needs-pack': {
    says: ({ line }) => `${line} comes in a pack. Without its code a recall would miss it. Scan the pack.`,
    desk: null,
  },
  'tray/two-packs': {
    says: ({ first, second }) =>
      `Pack ${first} is on this tray already. Two packs for one patient leave another without. Put ${first} or ${second} back.`,
    desk: null,
  },
  'tray/no-line-for-pack': {
    says: ({ code, kind }) =>
      `Pack ${code} is a ${kind.replaceAll('-', ' ')}. This tray needs none. Put it back.`,
    desk: null,
  },
  'tray/pack-elsewhere': {
    says: ({ code }) => `Pack ${code} is on another tray. It can serve one patient only. Take another pack.`,
    desk: null,
  },
  'tray/pack-unknown': {
    says: ({ code }) =>
      `No pack has the code ${code}. Where it comes from is not known. Scan it again, or take another.`,
    desk: null,
  },
  'tray/count-short': {
    says: ({ line, wanted, counted }) =>
      `${line}: ${counted === null ? 'not counted' : `${counted} counted`}, ${wanted} went to the chair. What is missing may be in the patient. Look for it, then count again.`,
    desk: null,
  },
  'stock/reorder': { says: ({ name, left }) => `${name}: ${left} left. Order more.`, desk: null },
  'stock/not-found': {
    says: () => 'This lot is not in the stock list. Its date is not known. Add it first.',
    desk: null,
  },
  'kit/not-found': {
    says: () =>
      'There is no such list of a dentist. Nothing was changed. Choose the kit and the dentist again.',
    desk: null,
  },
}
