import { describe, expect, test } from 'vitest'
import { DEMO_DAY } from '#seed/clinic.ts'
import { FOUNDER } from '#seed/people.ts'
import { must } from '#shared/base/assert.ts'
import { dayAfter } from '#shared/base/moment.ts'
import { judgeStartOfDay } from '#shared/people/start-of-day.ts'
import { openStory, type Story } from '../schedule/story.ts'

const rulesOn = (story: Story, day = DEMO_DAY) =>
  judgeStartOfDay(must(story.world().site[0], 'one site'), day).map(({ rule, about }) => [
    rule,
    about.split('/')[1],
  ])
const look = (story: Story, line: string, inOrder = true, time = '07:40') =>
  story.does('tornqvist', 'site.look-over', { siteId: story.site(), line, inOrder }, time)

// Common practice: emergency drugs, oxygen and a kit without latex are looked at before the first patient of each day.
describe('what must be at hand is looked over each day', () => {
  test('[site/not-looked-over] each line until somebody looked, and again the next day', () => {
    const story = openStory()
    expect(rulesOn(story)).toEqual([
      ['site/not-looked-over', 'oxygen'],
      ['site/not-looked-over', 'emergency-kit'],
    ])
    look(story, 'oxygen')
    expect(rulesOn(story)).toEqual([['site/not-looked-over', 'emergency-kit']])
    look(story, 'emergency-kit')
    expect(rulesOn(story)).toEqual([])
    expect(rulesOn(story, dayAfter(DEMO_DAY, 1))).toHaveLength(2)
  })

  test('[site/not-in-order] what is not in order is asked until it is', () => {
    const story = openStory()
    look(story, 'oxygen', false)
    look(story, 'emergency-kit')
    expect(rulesOn(story)).toEqual([['site/not-in-order', 'oxygen']])
    look(story, 'oxygen', true, '07:55')
    expect(rulesOn(story)).toEqual([])
    expect(must(story.world().site[0], 'one site').startOfDay?.lines).toHaveLength(3)
  })

  test('what is set of a site leaves what was looked over, and the desk looks at neither', () => {
    const story = openStory()
    look(story, 'oxygen')
    const {
      id: siteId,
      name,
      zone,
      opensAt,
      closesAt,
      assistantPlaces,
    } = must(story.world().site[0], 'one site')
    story.does(FOUNDER, 'site.set', { siteId, name, zone, opensAt, closesAt, assistantPlaces })
    expect(rulesOn(story)).toEqual([['site/not-looked-over', 'emergency-kit']])
    expect(story.refusals('kallas', 'site.look-over', { siteId, line: 'oxygen', inOrder: true })).toEqual([
      'person/not-allowed',
    ])
  })
})
