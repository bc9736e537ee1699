import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { monitorEventLoopDelay } from 'node:perf_hooks'
import { describe, expect, it } from 'vitest'
import { previewAlone } from '#server/command-line/import.ts'
import { openRun } from '#server/imports/open-run.ts'
import type { Preview, PreviewOptions } from '#server/imports/preview.ts'
import { openRunHere, type RunStart } from '#server/imports/run.ts'
import { emptyWorld, type World } from '#shared/facts.ts'
import type { CommandId } from '#shared/ids.ts'
import { DAY, DESK, importFile, list, MORNING, OPTIONS, row, smallClinic } from './small-clinic.ts'

const DAY_LIST = readFileSync(new URL('../../fixtures/day-list.csv', import.meta.url))
const thousand = Buffer.from(
  list(
    ...Array.from({ length: 1000 }, (_, index) =>
      row({
        id: `v${index}`,
        start: `${8 + (index % 10)}:${['00', '15', '30', '45'][index % 4]}`.padStart(5, '0'),
        patient: `Family${index}, Given`,
        operatory: String(1 + (index % 10)),
      }),
    ),
  ),
)
const options = { ...OPTIONS, fileName: 'day.csv', now: MORNING, today: DAY }

const startOf = (bytes: Uint8Array): RunStart => ({
  bytes,
  fileName: 'day.csv',
  options: OPTIONS,
  source: { id: null, name: OPTIONS.source, notation: 'iso', mapping: {}, dateOrder: null },
  command: {
    id: randomUUID() as CommandId,
    kind: 'appointments.import',
    sawRevision: 0,
    madeAt: MORNING,
    by: DESK.id,
    station: 'test',
  },
})
const textsOf = (world: World) =>
  Object.fromEntries(Object.entries(world).map(([name, facts]) => [name, JSON.stringify(facts)]))
async function previewOf(world: World, bytes: Uint8Array, more: PreviewOptions): Promise<Preview> {
  const run = await openRun(startOf(bytes))
  try {
    return await run.preview(textsOf(world), more)
  } finally {
    run.close()
  }
}

describe('a preview', () => {
  it('says what an import would do and changes nothing', async () => {
    const world = importFile(
      smallClinic(),
      list(row(), row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda' })),
    ).world
    const before = JSON.stringify(world)
    const known = world.importSource[0]
    const file = list(
      row({ start: '12:00' }),
      row({ id: 'c', start: '13:00', patient: 'Fennimore, Farid' }),
      row({ id: 'd', start: 'soon' }),
    )
    const preview = await previewOf(world, Buffer.from(file), { ...options, ...(known ? { known } : {}) })
    expect(preview.counts).toEqual({
      new: 1,
      changed: 1,
      cancelled: 0,
      unchanged: 0,
      older: 0,
      vanished: 1,
      problems: 1,
    })
    expect(preview.outcomes.map(({ line, outcome }) => [line, outcome])).toEqual([
      [2, 'changed'],
      [3, 'new'],
      [0, 'vanished'],
    ])
    expect(preview.vanished).toEqual([
      {
        appointmentId: world.appointment.find(({ startsAt }) => startsAt === '11:00')?.id,
        day: DAY,
        startsAt: '11:00',
        operatory: '1',
        patient: { given: 'Wanda', family: 'Yarrow' },
      },
    ])
    expect(preview.problems).toMatchObject([{ line: 4, field: 'start' }])
    expect(preview.covers).toEqual({ days: [DAY], operatories: ['1'] })
    expect(JSON.stringify(world)).toBe(before)
  })

  it('of a thousand appointments does not hold up the event loop for 100 ms', {
    timeout: 60_000,
  }, async () => {
    const world = smallClinic()
    const delay = monitorEventLoopDelay({ resolution: 2 })
    delay.enable()
    const preview = await previewOf(world, thousand, options)
    delay.disable()
    expect(preview.counts).toMatchObject({ new: 1000, problems: 0 })
    // Twice the figure to reach: other tests share the machine while this one runs.
    expect(delay.max / 1e6).toBeLessThan(200)
  })

  it('beside the event loop is the same as here and now', { timeout: 60_000 }, async () => {
    const world = smallClinic()
    const here = openRunHere(startOf(thousand)).preview(textsOf(world), options)
    expect(await previewOf(world, thousand, options)).toEqual(here)
    expect(here.counts.new).toBe(1000)
  })

  it('of a short file against a day of a thousand is decided beside the event loop, and is the same', {
    timeout: 120_000,
  }, async () => {
    const { world } = importFile(smallClinic(), thousand)
    const short = Buffer.from(list(row({ id: 'new', start: '19:00', patient: 'Yarrow, Wanda' })))
    expect(short.length).toBeLessThan(1024)
    const around = {
      clinicId: DESK.clinicId,
      now: MORNING,
      today: DAY,
      by: DESK,
      station: 'test',
      journal: null,
    }
    const texts = textsOf(world)
    const began = performance.now()
    const here = openRunHere(startOf(short)).decide(texts, around)
    const took = performance.now() - began
    const run = await openRun(startOf(short))
    // The thread is there already: it is the deciding that is measured.
    await run.preview(texts, options)
    const delay = monitorEventLoopDelay({ resolution: 2 })
    delay.enable()
    const apart = await run.decide(texts, around)
    delay.disable()
    run.close()
    expect([apart.kind, here.kind]).toEqual(['made', 'made'])
    if (apart.kind !== 'made' || here.kind !== 'made') return
    const counts = ({ told }: typeof here) => told.put.importBatch?.[0]?.counts
    expect(counts(apart)).toEqual(counts(here))
    expect(counts(here)).toMatchObject({ new: 1 })
    // Whatever else the machine does meanwhile: far less than deciding it here.
    expect(delay.max / 1e6).toBeLessThan(took)
  })

  it('can be stopped', { timeout: 60_000 }, async () => {
    const stop = new AbortController()
    const reading = openRun(startOf(thousand), stop.signal)
    stop.abort()
    await expect(reading).rejects.toThrow('Stopped')
  })
})

describe('import --preview without a database', () => {
  const ask = (file: Uint8Array | string, more = {}) =>
    previewAlone({
      verb: 'import',
      preview: true,
      file: { name: 'day.csv', base64: Buffer.from(file).toString('base64') },
      mapping: null,
      ...more,
    })

  it('compares with an empty clinic', async () => {
    expect(await ask(DAY_LIST)).toMatchObject({
      exit: 0,
      body: { new: 60, changed: 0, cancelled: 0, unchanged: 0, vanished: 0, problems: [] },
    })
  })

  it('tells each row that cannot be taken, with line, field and what to do', async () => {
    const answer = await ask(list(row(), row({ id: 'b', start: 'soon' })))
    expect(answer).toMatchObject({ exit: 0, body: { new: 1, problems: [{ line: 3, field: 'start' }] } })
  })

  it('takes a mapping file, of columns alone or with more', async () => {
    const file = 'When,Who\n03/04/2026 09:00,"Yarrow, Wanda"'
    expect(await ask(file, { mapping: { When: 'start', Who: 'patient' } })).toMatchObject({
      exit: 1,
      body: { new: 0, problems: [{ field: 'start' }] },
    })
    expect(
      await ask(file, { mapping: { columns: { When: 'start', Who: 'patient' }, dateOrder: 'dmy' } }),
    ).toMatchObject({ exit: 0, body: { new: 1 } })
  })

  it('is refused in three parts where there is no file, no mapping or no such zone', async () => {
    for (const more of [{ file: null }, { mapping: 'no' }, { mapping: { zone: 'Clinic Time' } }]) {
      const answer = await ask('Date\n', more)
      expect(answer).toMatchObject({ exit: 2, body: { refused: true } })
    }
  })

  it('an empty file is told, not taken', async () => {
    expect(await ask('')).toMatchObject({ exit: 1, body: { new: 0, problems: [{ line: 1, field: 'file' }] } })
  })

  it('an empty world has nothing to compare names with', () => {
    expect(
      importFile(
        { ...smallClinic(), operatory: emptyWorld().operatory, member: emptyWorld().member },
        DAY_LIST,
      ).counts.problems,
    ).toBe(0)
  })
})
