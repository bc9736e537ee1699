import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'

/**
 * Contrast as WCAG 2.2 defines it (relative luminance and ratio: READ, W3C Recommendation, "Terms").
 * SC 1.4.3: text 4.5 : 1. SC 1.4.11: marks, edges of controls and focus rings 3 : 1.
 */
const TOKENS = readFileSync(new URL('../../app/_ui/tokens.css', import.meta.url), 'utf8')

type Theme = Record<string, string>
const PAIR = /--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g

function themes(css: string): { light: Theme; dark: Theme } {
  const [light, dark]: [Theme, Theme] = [{}, {}]
  for (const [, name = '', day = '', night = ''] of css.matchAll(PAIR)) {
    light[name] = day
    dark[name] = night
  }
  return { light, dark }
}

const [PLAIN = '', HIGH = ''] = TOKENS.split('prefers-contrast: more')
const plain = themes(PLAIN)
const high = themes(HIGH)
const THEMES: [string, Theme][] = [
  ['light', plain.light],
  ['dark', plain.dark],
  ['light, more contrast', { ...plain.light, ...high.light }],
  ['dark, more contrast', { ...plain.dark, ...high.dark }],
]

const channel = (value: number): number =>
  value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) =>
    channel(Number.parseInt(colour.slice(at, at + 2), 16)),
  )
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}
function ratio(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)]
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05)
}

const TEXTS = ['ink', 'soft-ink', 'water', 'ochre', 'brick']
const GROUNDS = ['paper', 'card']
const TEXT_PAIRS = [
  ...TEXTS.flatMap((text) => GROUNDS.map((ground) => [text, ground])),
  ['ink', 'rubber'],
  ['paper', 'ink'],
]
const MARK_PAIRS = [...TEXT_PAIRS, ['water', 'rubber'], ['brick', 'rubber'], ['ochre', 'rubber']]

test('the ratio is right for the two ends of its range', () => {
  expect(ratio('#000000', '#ffffff')).toBeCloseTo(21, 5)
  expect(ratio('#777777', '#ffffff')).toBeCloseTo(4.48, 2)
})

describe.each(THEMES)('tokens, %s', (_, theme) => {
  test('all nine colours are given', () => {
    expect(Object.keys(theme).sort()).toEqual(
      ['brick', 'card', 'ink', 'line', 'ochre', 'paper', 'rubber', 'soft-ink', 'water'].sort(),
    )
  })
  test.each(TEXT_PAIRS)('%s on %s is readable as text, 4.5 : 1', (text = '', ground = '') => {
    expect(ratio(theme[text] ?? '', theme[ground] ?? '')).toBeGreaterThanOrEqual(4.5)
  })
  test.each(MARK_PAIRS)('%s on %s can be seen as a mark, 3 : 1', (mark = '', ground = '') => {
    expect(ratio(theme[mark] ?? '', theme[ground] ?? '')).toBeGreaterThanOrEqual(3)
  })
})
