import type { ToothCondition } from '#shared/teeth/mouth-chart.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import type { PersonKey } from './people.ts'

/** What is known of allergies before the day begins. */
export type Known =
  | { kind: 'none' }
  | { kind: 'not-asked' }
  | { kind: 'asked-unknown' }
  | { kind: 'latex'; certainty: 'suspected' | 'confirmed'; text: string }
  | { kind: 'listed'; substance: string; text: string }

/** One booking of the invented day. */
export interface Booking {
  /** Names the row in the script; never shown. */
  key: string
  operatory: string
  /** Local clock time, `HH:MM`. */
  at: string
  minutes: number
  who: PersonKey
  student?: PersonKey
  given: string
  family: string
  born: string
  work: string
  allergies: Known
  /** Null: nobody has charted this mouth. */
  chart: Partial<Record<Tooth, ToothCondition[]>> | null
  /** Kilograms, as written at an earlier visit. */
  kg?: string
  guardian?: string
  interpreter?: string
  note?: string
  /** Minutes by which everything begins later than booked. */
  late?: number
  /** Comes from another system’s list. */
  imported?: true
}

interface Column {
  who: PersonKey
  student?: PersonKey
  minutes: number
}
type Slot = [at: string, operatory: string, name: string, born: string, work: string, more?: Partial<Booking>]

/** The bookings of one person's column. Who is not said to be otherwise has no allergies and a charted, full mouth. */
const column = (of: Column, slots: readonly Slot[]): Booking[] =>
  slots.map(([at, operatory, name, born, work, more]) => {
    const [given = '', family = ''] = name.split(' ')
    const plain = {
      key: name,
      operatory,
      at,
      given,
      family,
      born,
      work,
      allergies: { kind: 'none' },
      chart: {},
    } as const
    return { ...of, ...plain, ...more }
  })

const MOTHER = { guardian: 'mother' }
const FATHER = { guardian: 'father' }

export const BOOKINGS: readonly Booking[] = [
  ...column({ who: 'corrigan', minutes: 40 }, [
    [
      '08:10',
      '1',
      'Edith Brannigan',
      '1958-03-02',
      'RCT 36',
      { allergies: { kind: 'listed', substance: 'penicillins', text: 'penicillin: rash as a child' } },
    ],
    [
      '08:50',
      '2',
      'Oskar Lindahl',
      '1983-09-17',
      'comp 46 MO',
      {
        allergies: { kind: 'latex', certainty: 'confirmed', text: 'latex: hives after gloves, tested 2019' },
      },
    ],
    ['09:30', '1', 'Farida Nouri', '1990-06-21', 'check-up'],
    ['10:10', '2', 'Pascal Girard', '1976-12-05', 'check-up'],
    ['10:50', '1', 'Helga Strand', '1961-01-30', 'post and core 22', { chart: { '17': ['missing'] } }],
    ['11:30', '2', 'Dermot Quill', '1949-08-11', 'review', { chart: null }],
    ['13:00', '1', 'Yusuf Demir', '1988-04-26', 'extraction 28'],
    ['13:40', '2', 'Clara Voss', '1996-10-08', 'extraction 38', { key: 'Clara Voss the younger' }],
    ['14:20', '1', 'Annika Lund', '1971-07-14', 'onlay bonding 26', { chart: { '28': ['missing'] } }],
    ['15:00', '2', 'Ruairi Moss', '2004-02-19', 'check-up', { allergies: { kind: 'asked-unknown' } }],
    ['15:40', '1', 'Lena Fischer', '1999-05-23', 'comp 36 O'],
    ['16:20', '2', 'Agnes Doyle', '1944-11-03', 'recement crown 25', { chart: { '25': ['ceramic-crown'] } }],
  ]),
  ...column({ who: 'feher', minutes: 40 }, [
    ['08:00', '3', 'Tadeo Marin', '1995-01-12', 'review'],
    ['08:40', '4', 'Gwen Pryce', '1986-10-29', 'deep caries 37 O'],
    ['09:20', '3', 'Milan Kovar', '1968-05-06', 'RCT 31, lower right second molar'],
    ['10:00', '4', 'Una Gallagher', '1979-03-15', 'check-up'],
    ['10:40', '3', 'Samir Toma', '1973-08-24', 'RCT dressing 15'],
    ['11:20', '4', 'Birgit Holm', '1966-02-07', 'impression upper'],
    ['12:50', '3', 'Nils Ekberg', '1957-09-09', 'amalgam removal 26 MOD'],
    ['13:30', '4', 'Joan Kilbride', '1981-06-02', 'broken tooth UR, pain', { chart: null }],
    ['14:10', '3', 'Petra Vidal', '1992-12-20', 'comp 34 O', { interpreter: 'Italian' }],
    ['14:50', '4', 'Hugh Lacey', '1955-04-18', 'check-up'],
    ['15:30', '3', 'Zofia Mazur', '1985-07-27', 'comp 45 DO'],
    ['16:10', '4', 'Ewan Tait', '2001-11-13', 'check-up'],
  ]),
  ...column({ who: 'nambiar', minutes: 40 }, [
    ['08:20', '5', 'Niamh Fallon', '2018-04-03', 'comp 84 MO', { ...MOTHER, late: 7, kg: '24.5' }],
    ['09:00', '6', 'Arlo Fallon', '2020-01-16', 'pulpotomy 85', { ...MOTHER, kg: '18.2' }],
    ['09:40', '5', 'Ida Novik', '2013-06-30', 'check-up', { ...FATHER, kg: '41' }],
    ['10:20', '6', 'Theo Brandauer', '2017-09-22', 'steel crown 74', { ...MOTHER, kg: '27.5' }],
    ['11:00', '5', 'Maja Kowal', '2014-12-01', 'fissure sealants 36 46', { ...FATHER, kg: '36' }],
    [
      '11:40',
      '6',
      'Finn Oakes',
      '2012-03-28',
      'check-up',
      { ...MOTHER, kg: '45', allergies: { kind: 'not-asked' } },
    ],
    ['13:20', '5', 'Lila Asante', '2018-08-05', 'comp 75 O', { ...MOTHER, kg: '23' }],
    ['14:00', '6', 'Bruno Keller', '2018-02-11', 'review', { ...FATHER, kg: '25' }],
    ['14:40', '5', 'Sofia Brandao', '2010-10-10', 'comp 21 MI', { ...MOTHER, kg: '52' }],
    ['15:20', '6', 'Rosa Quigley', '2015-05-19', 'check-up', { ...MOTHER, kg: '31' }],
    ['16:00', '5', 'Emil Hartog', '2014-07-08', 'fissure sealants 16 26 36 46', { ...FATHER, kg: '38' }],
    ['16:40', '6', 'Ada Wren', '2020-11-26', 'fluoride varnish', { ...MOTHER, kg: '19' }],
  ]),
  ...column({ who: 'wolters', minutes: 30 }, [
    ['08:30', '7', 'Bernard Ilves', '1952-06-14', 'scaling'],
    ['09:00', '8', 'Marta Jelinek', '1969-03-09', 'cleaning'],
    ['09:30', '7', 'Conor Rafferty', '1987-12-12', 'cleaning'],
    ['10:00', '8', 'Clara Voss', '1952-02-25', 'scaling', { key: 'Clara Voss the elder' }],
    [
      '10:30',
      '7',
      'Tilda Aaberg',
      '1993-09-01',
      'cleaning',
      { allergies: { kind: 'latex', certainty: 'suspected', text: 'itchy lips from balloons' } },
    ],
    ['11:00', '8', 'Colm Brady', '1963-05-31', 'cleaning', { imported: true }],
    ['11:30', '7', 'Sunniva Eide', '1978-10-20', 'scaling'],
    ['13:00', '7', 'Gustav Roux', '1959-01-05', 'cleaning', { chart: null }],
    ['13:30', '8', 'Imke Sanders', '1982-04-16', 'cleaning', { imported: true }],
    ['14:00', '7', 'Piotr Wilk', '1974-08-08', 'scaling'],
    ['14:30', '8', 'Esther Amadi', '1991-11-29', 'cleaning'],
    ['15:00', '7', 'Lorcan Hayes', '2005-07-02', 'cleaning'],
    ['15:30', '8', 'Vera Dobrev', '1965-12-24', 'scaling'],
    ['16:00', '7', 'Anton Riis', '1998-03-13', 'cleaning'],
  ]),
  ...column({ who: 'brandt', student: 'larbi', minutes: 60 }, [
    ['09:10', '9', 'Jonas Weil', '2003-02-14', 'check-up and cleaning'],
    ['10:20', '9', 'Carys Bowen', '1998-08-30', 'comp 36 O'],
    ['11:30', '9', 'Ivo Marek', '1991-05-11', 'comp 46 O'],
    ['13:30', '9', 'Selma Aydin', '1994-10-03', 'comp 14 O'],
    ['14:40', '9', 'Otis Grant', '2000-06-06', 'cleaning'],
    ['15:50', '9', 'Freya Holt', '2002-12-17', 'fissure sealants 37 47'],
  ]),
  ...column({ who: 'brandt', minutes: 30 }, [
    ['08:15', '10', 'Walter Nagel', '1947-07-19', 'review'],
    ['09:50', '10', 'Moira Flint', '1963-09-27', 'check-up'],
    ['12:40', '10', 'Dina Safar', '1989-01-08', 'check-up'],
    ['16:55', '10', 'Leo Castan', '1978-04-01', 'review'],
  ]),
]
