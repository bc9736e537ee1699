import type { Label, NumbnessPlace } from '../../anaesthesia/anaesthetic.ts'
import type { AnaesthesiaFinding } from '../../anaesthesia/findings.ts'
import type { Caution } from '../../anaesthesia/history.ts'
import type { Sentences } from '../../base/rule.ts'

const MILLIGRAM = 1_000_000

/** Nanograms as milligrams with one place, cut off: limits downwards. */
export const sayDown = (amount: number): string =>
  `${(Math.floor(amount / (MILLIGRAM / 10)) / 10).toFixed(1)} mg`

/** What was used, upwards. */
export const sayUp = (amount: number): string =>
  `${(Math.ceil(amount / (MILLIGRAM / 10)) / 10).toFixed(1)} mg`

/** A solution as its label names it: `articaine 4 %, epinephrine 1 : 100 000`. */
export function sayLabel({ agent, milliPercent, vasoconstrictor, ratio }: Label): string {
  const plain = `${agent} ${milliPercent / 1000} %`
  if (vasoconstrictor === 'none') return `${plain}, plain`
  return ratio === null
    ? `${plain}, ${vasoconstrictor}`
    : `${plain}, ${vasoconstrictor} 1 : ${ratio.toLocaleString('en-GB').replaceAll(',', ' ')}`
}

const sayMicro = (amount: number): string => `${(amount / 1000).toFixed(0)} µg`

const sayKilograms = (grams: number): string => `${(Math.floor(grams / 100) / 10).toFixed(1)} kg`

export const sayPlace = (place: NumbnessPlace): string =>
  place.kind === 'tooth' ? `tooth ${place.tooth}` : `gum at ${place.tooth}, ${place.side} side`

const sayPlaces = (places: readonly NumbnessPlace[]): string => places.map(sayPlace).join('; ')

const CANNOT = 'Cannot check: the dentist decides.'

const BARS = {
  sulfite: 'a sulfite sensitivity',
  methaemoglobinaemia: 'methaemoglobinaemia',
  'amide-allergy': 'an allergy to amide anaesthetics',
  'ester-allergy': 'an allergy to ester anaesthetics',
}

const WARNED_WORDS = {
  child: 'a child',
  carer: 'comes with a carer',
  block: 'after a block',
  'age-unknown': 'the age is not known: it may be a child',
}

const CAUTION_WORDS: Record<Caution, string> = {
  'mao-inhibitor': 'an MAO inhibitor and a vasoconstrictor go together with caution',
  tricyclic: 'a tricyclic and a vasoconstrictor go together with caution',
  'beta-blocker':
    'a beta blocker, if it is a non-selective one, and a vasoconstrictor go together with caution',
  cocaine: 'cocaine within a day and a vasoconstrictor go together with caution',
  sedation: 'with sedatives or opioids the maximum is lowered',
  asthma: 'a cartridge with a vasoconstrictor holds sulfite, which may set off asthma',
  methaemoglobin: 'this agent is named as raising the risk of methaemoglobin',
}

export const ANAESTHESIA_SENTENCES = {
  'dose/over-maximum': {
    says: ({ agent, used, limit, profile, by }) =>
      `${agent === 'together' ? 'All agents together' : agent}: ${sayUp(used)} is over ${sayDown(limit)} of ${profile}${by.length > 1 ? ` (given by ${by.length} people)` : ''}. Reference only: enter less, or the dentist decides otherwise.`,
    desk: null,
  },
  'dose/over-vasoconstrictor': {
    says: ({ which, used, limit }) =>
      `${which}: ${sayMicro(used)} is over ${sayMicro(limit)}. Reference only: enter less, or another solution.`,
    desk: null,
  },
  'dose/weight-missing': {
    says: () => `Weigh today: without a weight no maximum can be worked out. ${CANNOT}`,
    desk: () => 'Weigh the patient today',
  },
  'dose/weight-line': {
    says: ({ last }) =>
      last === null
        ? 'No weight is recorded, so the entered dose is not checked. The dentist decides.'
        : `The last weight, ${last.value} ${last.unit}, is too long ago, so the entered dose is not checked by it. The dentist decides.`,
    desk: null,
  },
  'dose/weight-old': {
    says: ({ value, unit }) =>
      `The last weight, ${value} ${unit}, is too long ago for a child or a light patient. Weigh today. ${CANNOT}`,
    desk: () => 'Weigh the patient today',
  },
  'dose/weight-unit': {
    says: ({ value, gramsIfPounds }) =>
      `${value} kg, or ${value} lb (${sayKilograms(gramsIfPounds)})? A wrong unit more than doubles the maximum. Give the unit.`,
    desk: ({ value }) => `Ask whether ${value} is kilograms or pounds`,
  },
  'dose/weight-implausible': {
    says: ({ grams, ageYears }) =>
      `${sayKilograms(grams)} at ${ageYears} years is unlikely. Weigh again. ${CANNOT}`,
    desk: () => 'Weigh the patient again',
  },
  'dose/age-unknown': {
    says: () => `The age is not known exactly enough. ${CANNOT}`,
    desk: () => 'Ask for the birth date',
  },
  'dose/age-contradicts': {
    says: ({ years, months }) =>
      `${years} years and ${months} months cannot both be the age. A wrong age opens or shuts a maximum. ${CANNOT}`,
    desk: () => 'Ask for the birth date',
  },
  'dose/no-profile': {
    says: () => `No limit profile is chosen. ${CANNOT}`,
    desk: null,
  },
  'dose/no-row': {
    says: ({ agent, profile }) => `${profile} prints no maximum for this ${agent}. ${CANNOT}`,
    desk: null,
  },
  'dose/not-for-age': {
    says: ({ agent, profile, ageYears }) =>
      `${profile} prints no maximum of ${agent} for ${ageYears} years. ${CANNOT}`,
    desk: null,
  },
  'dose/row-not-confirmed': {
    says: ({ agent, profile }) => `The row for ${agent} in ${profile} is not confirmed. ${CANNOT}`,
    desk: null,
  },
  'dose/age-gate': {
    says: ({ agent, years }) => `${agent} is not for those under ${years} years. ${CANNOT}`,
    desk: null,
  },
  'dose/barred': {
    says: ({ agent, bar }) => `${agent} as entered is barred by its label with ${BARS[bar]}. ${CANNOT}`,
    desk: null,
  },
  'dose/bar-unknown': {
    says: ({ agent, bar }) =>
      `Whether the patient has ${BARS[bar]} is not known, and it bars ${agent}. Ask for it. ${CANNOT}`,
    desk: null,
  },
  'dose/bar-unsaid': {
    says: ({ bars }) =>
      `Nobody has said whether there is ${bars.map((bar) => BARS[bar]).join(' or ')}: it would bar what is entered. Ask before the needle.`,
    desk: null,
  },
  'dose/solution-unknown': {
    says: ({ label }) =>
      `${sayLabel(label)} is no solution that we know to be sold. A slip in the strength makes every figure wrong. Read the label again. ${CANNOT}`,
    desk: null,
  },
  'dose/over-formula': {
    says: ({ agent, used, limit, profile }) =>
      `${agent}: ${sayUp(used)} is within the table of ${profile} and over the ${sayDown(limit)} of its own formula for children. ${CANNOT}`,
    desk: null,
  },
  'dose/label-ceiling-mixed': {
    says: ({ agent, used, limit }) =>
      `epinephrine of all cartridges: ${sayMicro(used)} is over the ${sayMicro(limit)} of ${agent}’s label, which does not say whether that of other agents counts. ${CANNOT}`,
    desk: null,
  },
  'dose/cartridge-unknown': {
    says: ({ agent }) => `The volume or the strength of the ${agent} cartridge is not given. ${CANNOT}`,
    desk: null,
  },
  'dose/ceiling-unknown': {
    says: ({ which }) => `Whether the heart sets a lower ceiling for ${which} is not known. ${CANNOT}`,
    desk: null,
  },
  'dose/ceiling-by-history': {
    says: ({ which, used, limit, texts }) =>
      `${which}: ${sayMicro(used)} is over ${sayMicro(limit)}, the ceiling with heart disease. Whether the heart is meant by “${texts.join('”, “')}” is for the dentist to say. ${CANNOT}`,
    desk: null,
  },
  'dose/caution': {
    says: ({ why, text }) => `“${text}”: ${CAUTION_WORDS[why]}; no figure is printed. ${CANNOT}`,
    desk: null,
  },
  'dose/no-child-ceiling': {
    says: ({ which }) => `The ceiling for ${which} is an adult figure: there is no child figure.`,
    desk: null,
  },
  'dose/long-acting-mixed': {
    says: ({ agents }) => `${agents.join(' and ')}: the rules for adding them disagree. ${CANNOT}`,
    desk: null,
  },
  'dose/other-side': {
    says: ({ side, teeth, planned }) =>
      `The injection is entered for the ${side}; ${planned.length > 0 ? `planned is the ${planned.join(' and ')}` : `the work is on ${teeth.join(', ')}`}. Which is meant?`,
    desk: null,
  },
  'dose/side-unsaid': {
    says: () =>
      'No tooth is named and no injection planned, so nothing says which side is meant. Plan it, with its side, before the needle.',
    desk: null,
  },
  'dose/in-elsewhere': {
    says: ({ tooth, side, teeth }) =>
      `An injection is in ${tooth === null ? 'on' : `at ${tooth},`} the ${side}${teeth.length > 0 ? `; the work is on ${teeth.join(', ')}` : ', not where it was planned'}. What is numb may not be what is worked on. The dentist says why, and goes on.`,
    desk: null,
  },
  'dose/other-tooth': {
    says: ({ tooth, side, teeth }) =>
      `The injection is entered at ${tooth}, ${side} side${teeth.length > 0 ? `; meant is ${teeth.join(', ')}` : ''}. Tooth, side and work must agree. Which is meant?`,
    desk: null,
  },
  'dose/not-for-blocks': {
    says: ({ agent }) => `The house’s own rule: ${agent} is not for blocks here.`,
    desk: null,
  },
  'dose/not-as-planned': {
    says: ({ label, planned }) =>
      `This cartridge is ${sayLabel(label)}; planned is ${planned.map(sayLabel).join(' and ')}. Read back drug, strength and expiry, two people, before anything is given.`,
    desk: null,
  },
  'cartridge/not-read-back': {
    says: ({ readBy }) =>
      readBy === null
        ? 'The cartridge’s label is still to be read aloud: drug, strength and expiry, by one person to another.'
        : 'The cartridge’s label was read by one person; another has still to answer it.',
    desk: null,
  },
  'numbness/not-tested': {
    says: ({ places }) => `Not tested yet: ${sayPlaces(places)}. The clamp will sit there.`,
    desk: null,
  },
  'numbness/tooth-not-tested': {
    says: ({ teeth, gumNumb }) =>
      `${gumNumb ? 'Gum numb; tooth' : 'Tooth'} ${teeth.join(', ')} not tested (cold or electric: no response, response, not suitable).`,
    desk: null,
  },
  'numbness/felt': {
    says: ({ place }) => `Felt at ${sayPlace(place)}. Stop and re-assess.`,
    desk: null,
  },
  'numbness/none-given': {
    says: () =>
      'An injection is intended and none is recorded: what is numb, and until when, is not known. Record it, or say that there is none.',
    desk: null,
  },
  'numbness/waiting': {
    says: () => 'The printed time until the injection works is not over yet.',
    desk: null,
  },
  'numbness/window-ends': {
    says: () =>
      'The work is expected to outlast the shortest printed time of a numb tooth. A second look will be due.',
    desk: null,
  },
  'numbness/re-check': {
    says: ({ teeth, why }) =>
      why === 'dose'
        ? `Tooth ${teeth.join(', ')} is not tested since the last injection. Test before going on.`
        : `The shortest printed time of a numb tooth is over${teeth.length > 0 ? ` at ${teeth.join(', ')}` : ''}. Test again.`,
    desk: null,
  },
  'numbness/by-intent': {
    says: ({ reason, topicalAtClamp }) =>
      `No injection by intent: ${reason}${topicalAtClamp ? '; topical at the clamp' : ''}. Stop and re-assess if felt.`,
    desk: null,
  },
  'numbness/nobody-stays': {
    says: () => 'After the needle nobody is named who stays with the patient.',
    desk: null,
  },
  'aftercare/not-given': {
    says: ({ why }) =>
      `Written lip warning not handed over (${WARNED_WORDS[why]}). Say until when it stays numb.`,
    desk: () => 'Hand-out due',
  },
} satisfies Partial<Sentences<AnaesthesiaFinding>>
