import type { Seen } from '#app/_live/seen.ts'
import type { AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { dateWords, timeOf } from './time-words.ts'

/** As much of a page as the words on allergies need. */
type Around = Pick<Seen, 'facts' | 'nameOf' | 'zone'>

/** All that is known of allergies in one line, the listed ones in the patient's own words. */
export function allergyWords(seen: Around): string {
  const record = seen.facts.allergies
  const listed = (record?.allergies ?? [])
    .filter(({ certainty }) => certainty !== 'refuted')
    .map(({ text, substance, certainty }) => `${text || substance}, ${certainty}`)
  return [latexWords(record, seen), othersWords(record, seen), listed.join('; ')].filter(Boolean).join(' ')
}

/** The four states of knowing, of latex. */
export function latexWords(record: AllergyRecord | null, seen: Around): string {
  if (record === null || record.latex === 'not-asked') return 'Latex: not asked yet.'
  const when = askedWords(record.latexAsked, seen)
  switch (record.latex) {
    case 'asked-unknown':
      return `Latex: asked, the patient does not know.${when}`
    case 'none-known':
      return `Latex: none known.${when}`
    case 'suspected':
      return `Latex: suspected.${when}`
    case 'confirmed':
      return `Latex: confirmed.${when}`
  }
}

/** The four states of knowing, of everything but latex. */
export function othersWords(record: AllergyRecord | null, seen: Around): string {
  if (record === null) return 'Others: not asked yet.'
  const when = askedWords(record.asked, seen)
  switch (record.state) {
    case 'not-asked':
      return 'Others: not asked yet.'
    case 'asked-unknown':
      return `Others: asked, the patient does not know.${when}`
    case 'none-known':
      return `Others: none known.${when}`
    case 'listed':
      return `Listed:`
  }
}

/** When it was asked, with the day where that is not the appointment's, and by whom. */
function askedWords(asked: AllergyRecord['latexAsked'], { facts, nameOf, zone }: Around): string {
  if (asked === null) return ''
  const day = asked.day === facts.appointment.day ? timeOf(asked.at, zone) : dateWords(asked.day)
  return ` Asked ${day}${asked.by === null ? '' : ` by ${nameOf(asked.by)}`}.`
}
