import type { Sentences } from '../../base/rule.ts'
import type { SterilityFinding } from '../../sterility/findings.ts'

export const STERILITY_REFUSALS = {
  'pack/load-failed': {
    says: ({ code, load }) =>
      `Pack ${code}: load ${load} failed. It is not sterile. Send it to be reprocessed.`,
    desk: null,
  },
  'pack/load-unknown': {
    says: ({ code }) =>
      `Pack ${code} has no load. Whether it is sterile cannot be checked. Send it to be reprocessed.`,
    desk: null,
  },
  'pack/used': {
    says: ({ code }) => `Pack ${code} was opened already. It is not sterile. Take another pack.`,
    desk: null,
  },
  'pack/undated': {
    says: ({ code }) =>
      `Pack ${code} has no date, or one that is still to come. How old it is cannot be checked. Send it to be reprocessed.`,
    desk: null,
  },
  'pack/spore-pending': {
    says: ({ code, load }) =>
      `Pack ${code}: the spore test of load ${load} is not read yet. What goes with implants waits for it. Take another pack.`,
    desk: null,
  },
  'pack/spore-missing': {
    says: ({ code, load }) =>
      `Pack ${code}: no spore test went with load ${load}. What goes with implants needs one. Take another pack; this one goes to be reprocessed.`,
    desk: null,
  },
  'pack/spore-doubtful': {
    says: ({ code, load, recalled }) =>
      recalled
        ? `Pack ${code}: load ${load} is recalled after two positive spore tests. It may not be sterile. Send it to be reprocessed.`
        : `Pack ${code}: a positive spore test hangs over load ${load}. It may not be sterile. Wait for the repeat.`,
    desk: null,
  },
  'pack/torn': {
    says: ({ code }) => `Pack ${code} is torn. It is not sterile. It goes to be reprocessed; take another.`,
    desk: null,
  },
  'pack/wet': {
    says: ({ code }) => `Pack ${code} is wet. It is not sterile. It goes to be reprocessed; take another.`,
    desk: null,
  },
  'pack/not-changed': {
    says: ({ code, mark }) =>
      `Pack ${code}: the ${mark} mark has not changed. It is not sterile. It goes to be reprocessed; take another.`,
    desk: null,
  },
  'pack/inner-not-seen': {
    says: ({ code }) =>
      `Pack ${code}: the mark inside was not seen. Whether steam reached it is not known. It goes to be reprocessed; take another.`,
    desk: null,
  },
  'pack/not-looked-at': {
    says: ({ code }) =>
      `Pack ${code} was not looked at. A torn or wet pack would be missed. Look at its outside and its marks, then open.`,
    desk: null,
  },
  'pack/not-found': { says: () => 'This pack is not known. Nothing was changed. Scan it again.', desk: null },
  'pack/code-taken': {
    says: ({ code }) =>
      `The code ${code} is taken. Two packs with one code could not be told apart. Make the pack again.`,
    desk: null,
  },
  'pack/set-not-clean': {
    says: ({ mark, place }) =>
      `Set ${mark} is ${place.replaceAll('-', ' ')}. It would be counted twice. Take it out of there first.`,
    desk: null,
  },
  'pack/not-held': { says: ({ code }) => `Pack ${code} is not held. Nothing was changed.`, desk: null },
  'pack/on-its-way': {
    says: ({ code }) =>
      `Pack ${code} is on its way between sites. What happened to it there is not known. Scan it in where it arrived, then use it.`,
    desk: null,
  },
  'pack/other-site': {
    says: ({ code, site }) =>
      `Pack ${code} stands at ${site} by the list. That site would count on it. Scan it in here first.`,
    desk: null,
  },
  'sets/mark-taken': {
    says: ({ mark }) =>
      `Another set is marked ${mark}. Two sets with one mark could not be told apart. Give it a mark of its own.`,
    desk: null,
  },
  'sets/unknown': {
    says: ({ code }) =>
      `No pack and no set is called ${code}. What it is cannot be told. Scan it again, or type the set’s mark.`,
    desk: null,
  },
  'sets/cannot-travel': {
    says: ({ code, state }) =>
      `${code} is ${state.replaceAll('-', ' ')}. Sent now, it would be lost from there. Send it once it is sterile on the shelf, or dirty.`,
    desk: null,
  },
  'sets/here-already': {
    says: ({ code }) => `${code} is at this site already. Nothing was changed.`,
    desk: null,
  },
  'load/no-reading': {
    says: ({ load }) =>
      `Load ${load}: no time and temperature. Whether it was long and hot enough cannot be checked. Enter the readings.`,
    desk: null,
  },
  'load/below-minimum': {
    says: ({ load, deciCelsius, seconds, leastSeconds }) =>
      `Load ${load}: ${deciCelsius / 10} °C for ${seconds} s; ${leastSeconds === null ? 'no minimum is listed at this temperature' : `at least ${leastSeconds} s are listed`}. Its packs may not be sterile. Mark it failed and run it again.`,
    desk: null,
  },
  'load/programme-unknown': {
    says: ({ load, programme }) =>
      `Load ${load}: the programme “${programme}” is not in the table. It cannot be checked. Go by the maker's instructions, or run it again.`,
    desk: null,
  },
  'load/indicator-unread': {
    says: ({ load }) => `Load ${load}: its indicator has not been read as changed. Read it first.`,
    desk: null,
  },
  'load/indicator-failed': {
    says: ({ load }) =>
      `Load ${load}: an indicator failed. Its packs may not be sterile. Mark it failed and run it again.`,
    desk: null,
  },
  'load/indicator-missing': {
    says: ({ load }) =>
      `Load ${load} has no indicator. Whether steam reached the packs cannot be checked. Enter it, or run the load again.`,
    desk: null,
  },
  'load/spore-missing': {
    says: ({ load }) =>
      `Load ${load} holds sets for implants and no spore test. Without one they cannot be used. Place one before it runs.`,
    desk: null,
  },
  'load/no-air-removal-test': {
    says: ({ steriliser }) =>
      `${steriliser}: no air-removal test passed today. Air left inside keeps steam from the packs. Run the test first.`,
    desk: null,
  },
  'load/releaser-not-named': {
    says: () =>
      'You are not named to release loads here. A load is released by a trained person. Ask one who is named.',
    desk: null,
  },
  'load/not-found': {
    says: () => 'This load is not known. Nothing was changed. Choose it again.',
    desk: null,
  },
  'load/not-now': {
    says: ({ load, state }) => `Load ${load} is ${state}, so this cannot be done. Nothing was changed.`,
    desk: null,
  },
  'steriliser/out-of-service': {
    says: ({ name, why }) =>
      `${name} is out of service: ${why}. Only test cycles may run. Use another steriliser.`,
    desk: null,
  },
  'steriliser/cycles-short': {
    says: ({ name, passing }) =>
      `${name}: ${passing} of 3 empty cycles passed since the repair. It stays out of service. Run and read the rest.`,
    desk: null,
  },
  'steriliser/not-out': { says: ({ name }) => `${name} is in service. Nothing was changed.`, desk: null },
  'steriliser/not-found': {
    says: () => 'This steriliser is not known. Nothing was changed. Choose it again.',
    desk: null,
  },
  'spore/due': {
    says: ({ name }) => `${name}: a spore test is due. One is run every week at least.`,
    desk: null,
  },
  'spore/invalid': {
    says: ({ name }) => `${name}: the control did not grow, so the spore test says nothing. Repeat it.`,
    desk: null,
  },
  'spore/failed': {
    says: ({ name, repeat }) =>
      repeat
        ? `${name}: the spore test is positive. It is out of service. Repeat the test in the same cycle.`
        : `${name}: the spore test is positive again. It stays out until repaired and three empty cycles pass.`,
    desk: null,
  },
  'indicator/not-found': {
    says: () => 'This indicator is not known. Nothing was changed. Choose it again.',
    desk: null,
  },
  'indicator/already-read': {
    says: () =>
      'This indicator was read already; its answer stands. Nothing was changed. Place another to repeat it.',
    desk: null,
  },
  'recall/cannot-narrow': {
    says: ({ packs }) =>
      `${packs} ${packs === 1 ? 'pack has' : 'packs have'} no load: cannot be narrowed. Hold or reprocess them.`,
    desk: null,
  },
  'recall/patients': {
    says: ({ patients, packs, trays }) =>
      `The recall reaches ${packs} packs, ${trays} trays and ${patients} patients.`,
    desk: null,
  },
} satisfies Partial<Sentences<SterilityFinding>>
