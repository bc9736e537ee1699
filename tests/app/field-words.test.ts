import { expect, test } from 'vitest'
import { FIELD_WORDS } from '#app/day/import/_parts/field-words.ts'
import { CSV_FIELDS } from '#server/imports/csv-columns.ts'

test('every field a column can hold has its words, and no other is offered', () => {
  expect(Object.keys(FIELD_WORDS).sort()).toEqual([...CSV_FIELDS].sort())
})
