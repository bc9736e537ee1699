import { describe, expect, it, test } from 'vitest'
import { isHighRisk } from '#shared/allergies/high-risk.ts'

/**
 * Histories that go with latex: CDA position statement 2005/2012; Kean & McNally, J Can Dent Assoc 2009;75:279 (READ:
 * spina bifida, urogenital anomalies, repeated catheters, paraplegia, multiple surgery, health workers). How people
 * write of them, deny them or tell them of others is COMMON; each was judged before it was read.
 */
const TELLS: readonly string[] = [
  ...['10 operations as a child', 'had 12 surgeries', 'multiple surgeries', 'several operations', 'many ops'],
  ...[
    'numerous operations',
    'bladder exstrophy repair',
    'cloacal exstrophy',
    'hypospadias repair',
    'posterior urethral valves',
  ],
  ...[
    'myelomeningocele',
    'meningomyelocele',
    'spina bifida',
    'born with spina bifida occulta',
    'Spina Bifida, wheelchair',
  ],
  ...[
    'VP shunt',
    'ventriculoperitoneal shunt',
    'catheterises daily',
    'catheterizes 4x a day',
    'intermittent catheter',
  ],
  ...['self-caths 4x/day', 'self cath', 'CISC', 'ISC daily', 'indwelling catheter'],
  ...['Mitrofanoff', 'neurogenic bladder', 'suprapubic catheter', 'paraplegic', 'tetraplegia'],
  ...['quadriplegia since 2010', 'spinal cord injury', 'operated on 8 times', 'surgery x 5', 'surgery x5'],
  ...[
    'surgeries: 6',
    'x6 operations',
    '3 previous operations',
    'neural tube defect',
    'tethered cord release',
  ],
  ...[
    'multiple cleft operations',
    'healthcare worker',
    'works as a theatre nurse',
    'a dozen surgeries',
    'lots of surgery',
  ],
  ...[
    'extensive surgery as a baby',
    'countless operations',
    'ops x 7',
    'seven operations',
    'eleven operations',
  ],
  ...[
    'operations: many',
    '15 abdominal surgeries',
    'no latex issues despite 10 operations',
    'no problems since multiple surgeries',
    'not allergic, spina bifida',
  ],
  ...[
    'many operations, no problems',
    'no allergies. spina bifida',
    'spina bifida - no shunt',
    'no shunt, spina bifida',
    '20 GAs',
  ],
  ...[
    'repeated surgery',
    'multiple abdominal operations',
    'urogenital anomaly',
    'catheter changed monthly',
    'never well: 8 operations',
  ],
]
const TELLS_NOT: readonly string[] = [
  ...[
    'no operations',
    'no previous surgery',
    'never had surgery',
    'denies multiple surgeries',
    'no catheter',
  ],
  ...[
    'no spina bifida',
    'no history of spina bifida',
    'spina bifida: no',
    'spina bifida ruled out',
    'spina bifida excluded',
  ],
  ...[
    'sister has spina bifida',
    'mother had 10 operations',
    'spina bifida in family',
    'one operation as a child',
    'appendix removed 1999',
  ],
  ...[
    'tonsils out',
    'has not had many operations',
    "hasn't had multiple surgeries",
    'never had several operations',
    'no spina bifida, catheters or shunts',
  ],
  ...[
    'no catheters or spina bifida',
    'no h/o myelomeningocele',
    'operation planned 3 May',
    'surgery 3, 10 am',
    'asthma',
  ],
  ...['hypertension', 'hip replacement', 'fear of surgery', 'knee operation 2015', 'not paraplegic'],
  ...[
    'no vp shunt',
    'gastric bypass',
    'works in an office',
    'denies catheter use',
    'brother with spina bifida',
  ],
  ...['no multiple operations', 'no known spina bifida', 'was never catheterised', 'does not use a catheter'],
]

describe('[latex/high-risk] a history that goes with latex', () => {
  it.each(TELLS)('“%s” is one', (text) => expect(isHighRisk(text)).toBe(true))
  it.each(TELLS_NOT)('“%s” is none', (text) => expect(isHighRisk(text)).toBe(false))
  test('one that is denied does not hide one that is told, in whatever order', () => {
    const denied = ['no operations', 'denies catheter use', 'never had several operations']
    for (const no of denied) {
      for (const yes of TELLS) {
        for (const joint of ['. ', '; ', ', but ', '\n']) {
          expect(isHighRisk(`${no}${joint}${yes}`), `${no}${joint}${yes}`).toBe(true)
          expect(isHighRisk(`${yes}${joint}${no}`), `${yes}${joint}${no}`).toBe(true)
        }
      }
    }
  })
})
