import type { Sentences } from '../../base/rule.ts'
import type { IsolationFinding } from '../../isolation/findings.ts'
import { list } from './isolation.ts'

export const ISOLATION_REFUSALS = {
  'plan/missing': {
    says: () => 'There is no plan for this appointment, so nothing can be compared. Name the work first.',
    desk: null,
  },
  'plan/stale': {
    says: ({ sent, stands }) =>
      `You saw plan ${sent}; plan ${stands} stands now. Look at it, then record again.`,
    desk: null,
  },
  'plan/not-agreeable': {
    says: ({ state }) => `The plan is ${state}: no sheet may go on. Answer its questions first.`,
    desk: null,
  },
  'choice/answer-unknown': {
    says: ({ answer, allowed }) =>
      `"${answer}" is no answer to this question. Choose one of: ${allowed.join(', ')}.`,
    desk: null,
  },
  'policy/not-a-dentist': {
    says: () =>
      'This person is no dentist here, so no plan would follow their field policies. Choose a dentist.',
    desk: null,
  },
  'punch/not-measured': {
    says: ({ mm, what }) =>
      `${what === 'hole' ? `A hole of ${mm} mm lies outside 0.5 to 2.6 mm` : `A punch of ${mm} mm lies outside 165 ± 5 mm`} (ISO 16635-1). A slip here makes every drawn hole wrong. Measure it again; if it is so, say that it was measured.`,
    desk: null,
  },
  'clamp/not-listed': {
    says: ({ mark }) =>
      `No clamp of our own is engraved “${mark}”, so nothing was noted. List it first, or read the mark again.`,
    desk: null,
  },
  'clamp/untied': {
    says: () => 'The clamp is not tied: it could be swallowed. Tie floss through both holes, then record.',
    desk: null,
  },
  'clamp/wingless-together': {
    says: () =>
      'A wingless clamp cannot carry the sheet in one go. Seat the clamp first, or take a winged one.',
    desk: null,
  },
  'clamp/bow-forward': {
    says: ({ tooth }) => `The bow at ${tooth} points forward and will be in the way. Turn it to the back.`,
    desk: null,
  },
  'clamp/not-inspected': {
    says: () =>
      'The clamp has not been looked at: a bow with rust, a crack or a bend may snap. Look, then record.',
    desk: null,
  },
  'dam/wrong-tooth': {
    says: ({ planned, placed }) =>
      `Stop: planned for ${list(planned)}, through the sheet show ${list(placed)}. Recount the teeth with the dentist.`,
    desk: null,
  },
  'dam/differs': {
    says: ({ planned, placed }) =>
      `Placed ${list(placed)}, planned ${list(planned)}. The dentist records what was placed, or place as planned.`,
    desk: null,
  },
  'dam/not-allowed-here': {
    says: () =>
      'This site has not said that an assistant may place a sheet. Prepare the tray; the dentist places it.',
    desk: null,
  },
  'dam/not-placed': {
    says: () => 'No sheet is recorded as placed, so none can be counted out. Record the placing first.',
    desk: null,
  },
  'removal/septa': {
    says: ({ cut, expected }) =>
      `${cut} septa cut, ${expected} expected: one may still hold. Look between the teeth, then count again.`,
    desk: null,
  },
  'removal/holes': {
    says: ({ whole, expected }) =>
      `${whole} of ${expected} holes have a whole edge: a piece may be left. Floss each gap, tell the dentist, then count again.`,
    desk: null,
  },
  'removal/fragment': {
    says: () =>
      'A piece of the sheet is missing. The visit stays open until it is found or the dentist explains it.',
    desk: null,
  },
  'removal/count': {
    says: ({ what, found, expected }) =>
      `${found} ${what} out, ${expected} went in. Find the rest before the patient moves.`,
    desk: null,
  },
} satisfies Partial<Sentences<IsolationFinding>>
