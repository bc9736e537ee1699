import type { Actor, Check, Gate, Rule } from '../base/rule.ts'
import { COMMON, memory, read, type Source } from '../base/source.ts'
import type { IsolationFinding, IsolationNote, IsolationQuestion, IsolationStop } from './findings.ts'

interface Row {
  next?: Actor
  by?: readonly string[]
  check?: Check | null
  gate?: Gate | null
  policy?: string
  source?: Source
}

const ANSWER = ['isolation.answer', 'isolation.choose'] as const

/** A question to the dentist: the plan is a draft, and no needle before its answer. */
const question = ({ next = 'dentist', by = ANSWER, policy, source = COMMON }: Row): Rule => ({
  level: 'ask',
  next,
  answeredBy: by,
  check: 'plan',
  gate: 'inject',
  policy: policy ?? null,
  source,
})
const note = ({ next = 'assistant', policy, source = COMMON }: Row): Rule => ({
  level: 'note',
  next,
  answeredBy: [],
  check: 'plan',
  gate: 'clamp',
  policy: policy ?? null,
  source,
})
/** What only refuses a command, or holds the plan. */
const stop = ({
  next = 'assistant',
  by = [],
  check = null,
  gate = null,
  policy,
  source = COMMON,
}: Row): Rule => ({
  level: 'stop',
  next,
  answeredBy: by,
  check,
  gate,
  policy: policy ?? null,
  source,
})

const CARROTTE = read('Carrotte, Br Dent J 2004;197:527–534')
const DECK = read('clamp study deck')

const QUESTIONS: Record<IsolationQuestion['rule'], Rule> = {
  'mouth/not-charted': question({ next: 'assistant', by: ['mouth.stand-as-drawn', 'mouth.chart'] }),
  'field/tooth-not-standing': question({ by: ['mouth.chart', 'work.name', 'isolation.choose'] }),
  'field/no-tooth': question({ by: ['work.name', 'isolation.choose'] }),
  'field/policy-silent': question({ policy: 'isolation.field' }),
  'field/wire': question({ source: read('Saltzman, paediatric rubber dam; what to do COMMON') }),
  'field/contact-closed': question({ source: read('G. V. Black 1908 p 70: every contact is flossed first') }),
  'anchor/ceramic-crown': question({
    source: memory('Madison, Jordan & Krell, J Endod 1986;12:182; non-metal clamp READ in teaching notes'),
  }),
  'anchor/unsuitable': question({}),
  'anchor/distal-of-last': question({ source: DECK }),
  'anchor/broken-down': question({ source: CARROTTE }),
  'breathing/choice': question({ source: read('study cards; G. V. Black 1908; clinician blog 2023') }),
  'alternative/needed': question({
    by: ['isolation.choose', 'isolation.answer'],
    source: read('AAE position statement via ADA News 2015; Carrotte 2004'),
  }),
}

const NOTES: Record<IsolationNote['rule'], Rule> = {
  'anchor/moved': note({}),
  'anchor/working-tooth': note({ source: read('Davis, Essentials of Operative Dentistry 1917, p 191') }),
  'anchor/matrix': note({ source: DECK }),
  'anchor/may-not-hold': note({ source: read('Carrotte 2004; Saltzman; use on half-erupted teeth MEMORY') }),
  'anchor/abutment': note({ source: CARROTTE }),
  'anchor/gum-before': note({ source: read('Cervenka, J Endod 2023: look at the gum after removal') }),
  'anchor/passed-over-before': note({}),
  'clamp/none-in-stock': note({ policy: 'clamps' }),
  'field/pontic': note({ source: read('study cards: slit accepted for bridges') }),
  'sheet/mark-in-mouth': note({ source: read('Carrotte 2004 fig 3; Scolavino & Paolone fig 4-4') }),
  'sheet/fold': note({ policy: 'isolation.spacing', source: COMMON }),
  'sheet/slit-length': note({
    source: read('JADA, a simplified rubber-dam technique for indirect restorations'),
  }),
  'sheet/made-non-latex': note({ policy: 'isolation.sheetMaterial', source: read('CDA 2005/2012; ASCIA') }),
  'punch/outside-iso': note({
    policy: 'isolation.plateMicrometres',
    source: read('ISO 16635-1:2013, overview'),
  }),
}

const STOPS: Record<IsolationStop['rule'], Rule> = {
  'sheet/septum-narrow': stop({
    next: 'dentist',
    by: ['isolation.choose', 'policy.set'],
    check: 'plan',
    gate: 'inject',
    policy: 'isolation.spacing',
    source: read('Davis 1917 p 190; McGehee p 107: 2–4 mm'),
  }),
  'sheet/latex-refused': stop({
    next: 'dentist',
    by: ['isolation.choose', 'allergies.record'],
    check: 'plan',
    gate: 'inject',
    source: read('CDA 2005/2012; ASCIA'),
  }),
  'plan/missing': stop({ next: 'dentist', by: ['work.name'] }),
  'plan/stale': stop({ by: ['dam.placed', 'guide.tick'] }),
  'plan/not-agreeable': stop({ next: 'dentist', by: ANSWER }),
  'choice/answer-unknown': stop({ next: 'dentist', by: ['isolation.answer'] }),
  'policy/not-a-dentist': stop({ next: 'manager', by: ['policy.of-dentist'] }),
  'punch/not-measured': stop({
    next: 'manager',
    by: ['punch.set'],
    policy: 'isolation.plateMicrometres',
    source: read('ISO 16635-1:2013, overview'),
  }),
  'clamp/not-listed': stop({ by: ['clamps.list', 'clamp.looked-at'], policy: 'clamps' }),
  'alternative/no-reason': stop({
    next: 'dentist',
    by: ['isolation.choose'],
    check: 'plan',
    gate: 'inject',
    source: read('AAE position statement via ADA News 2015; ESE 2006 as restated'),
  }),
  'clamp/untied': stop({
    by: ['dam.placed'],
    policy: 'isolation.untiedClampAllowed',
    source: read('Hottel Q&A; Scolavino & Paolone; not needed as one unit: Welbury 2005'),
  }),
  'clamp/wingless-together': stop({ by: ['dam.placed'], source: read('Dental Update pt 2; Carrotte 2004') }),
  'clamp/bow-forward': stop({ by: ['dam.placed'], source: read('G. V. Black 1908; Hottel Q&A; DASLE') }),
  'clamp/not-inspected': stop({
    by: ['dam.placed'],
    source: read('Qualtrough 2005 p 20: fracture of the bow'),
  }),
  'dam/wrong-tooth': stop({ next: 'dentist', by: ['dam.placed', 'work.name'] }),
  'dam/differs': stop({ next: 'dentist', by: ['dam.placed'] }),
  'dam/not-allowed-here': stop({ next: 'dentist', by: ['site.set', 'dam.placed'] }),
  'dam/not-placed': stop({ by: ['dam.placed'] }),
  'removal/septa': stop({ by: ['dam.removed'], source: read('lecture study deck') }),
  'removal/holes': stop({ by: ['dam.removed'], source: read('RDA item: pieces left irritate the gum') }),
  'removal/fragment': stop({ next: 'dentist', by: ['dam.removed'], source: read('RDA item') }),
  'removal/count': stop({
    by: ['dam.removed', 'visit.count'],
    source: read('Aydin, case report of a swallowed clamp'),
  }),
}

export const ISOLATION_RULES: Record<IsolationFinding['rule'], Rule> = { ...QUESTIONS, ...NOTES, ...STOPS }
