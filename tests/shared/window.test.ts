import { expect, test } from 'vitest'
import { makeWindow, parseWindow, type Window } from '#shared/window.ts'

const id = '00000000-0000-4000-8000-000000000001'

test.each([
  [`day/${id}/2026-11-24`, { kind: 'day', siteId: id, day: '2026-11-24' }],
  [`sterility/${id}/2026-11-24`, { kind: 'sterility', siteId: id, day: '2026-11-24' }],
  [`appointment/${id}`, { kind: 'appointment', appointmentId: id }],
  ['stock', { kind: 'stock' }],
])('%s is a window, and written back the same', (text, window) => {
  expect(parseWindow(text)).toEqual(window)
  expect(makeWindow(window as Window)).toBe(text)
})

test.each([
  '',
  'day',
  `day/${id}`,
  `day/${id}/2026-02-30`,
  'day/x/2026-11-24',
  'appointment/x',
  `week/${id}/2026-11-24`,
])('“%s” is none', (text) => {
  expect(parseWindow(text)).toBeNull()
})
