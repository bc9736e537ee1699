import { randomBytes } from 'node:crypto'
import { monitorEventLoopDelay } from 'node:perf_hooks'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ENGINES } from '#db/database.ts'
import { type RunProgress, takeBrought } from '#server/imports/take.ts'
import { addPerson } from '#tests/support/clinic.ts'
import { list, row } from '../imports/small-clinic.ts'
import { openServed, type Served } from './served.ts'

const thousand = list(
  ...Array.from({ length: 1000 }, (_, index) =>
    row({
      id: `v${index}`,
      day: `2026-11-${24 + (index % 5)}`,
      start: `${8 + (index % 10)}:${['00', '15', '30', '45'][index % 4]}`.padStart(5, '0'),
      patient: `Family${index}, Given`,
      operatory: String(1 + (index % 2)),
      work: ['comp 46 MO', 'RCT 36', 'exam', 'fissure sealants 16 26'][index % 4] ?? '',
    }),
  ),
)

describe.each(ENGINES)('runs, on %s', (engine) => {
  let served: Served
  let manager: string
  beforeAll(async () => {
    served = await openServed(engine)
    manager = await served.signIn(served.clinic.manager)
  })
  afterAll(() => served.close())
  const revision = async () =>
    (await served.clinic.in((tx) => tx.unsafe('select revision from clinic_clock')))[0]
  const originals = async () => [
    ...(await served.clinic.in((tx) => tx.unsafe('select digest from import_original'))),
  ]

  test('the file of a run is kept as it came, once, for those who may import', async () => {
    const file = Buffer.concat([
      Buffer.from([0xef, 0xbb, 0xbf]),
      Buffer.from(list(row({ patient: 'Zoë, Ó' }))),
    ])
    const performed = await served.bring(file)
    await served.bring(file)
    expect(await originals()).toHaveLength(1)
    const [batch] = performed.refused ? [] : (performed.change.put.importBatch ?? [])
    const get = (cookie: string, id = batch?.id ?? '') =>
      fetch(`${served.at}/api/import/original?batch=${id}`, { headers: { cookie } })
    const answer = await get(manager)
    expect(Buffer.from(await answer.arrayBuffer()).equals(file)).toBe(true)
    expect(answer.headers.get('content-disposition')).toContain('day%20list.csv')
    const assistant = await served.signIn(await addPerson(served.clinic, 'Ida', 'assistant'))
    expect((await get(assistant)).status).toBe(403)
    expect((await get(manager, served.clinic.clinicId)).status).toBe(404)
  })

  test('a file that no packing makes shorter is kept whole, though it crosses in pieces', async () => {
    const pictures = Array.from({ length: 60 }, () =>
      JSON.stringify({ resourceType: 'Binary', data: randomBytes(200_000).toString('base64') }),
    )
    const named = {
      resourceType: 'Patient',
      id: 'kept',
      name: [{ text: 'Ann Kept' }],
      birthDate: '1990-05-01',
    }
    const visit = {
      resourceType: 'Appointment',
      id: 'kept',
      status: 'booked',
      start: '2026-11-24T16:00:00Z',
      minutesDuration: 30,
      participant: [{ actor: { reference: 'Patient/kept' }, status: 'accepted' }],
    }
    const file = Buffer.from([JSON.stringify(named), ...pictures, JSON.stringify(visit)].join('\n'))
    const performed = await served.bring(file)
    const [batch] = performed.refused ? [] : (performed.change.put.importBatch ?? [])
    expect(batch?.counts).toMatchObject({ new: 1 })
    const answer = await fetch(`${served.at}/api/import/original?batch=${batch?.id}`, {
      headers: { cookie: manager },
    })
    expect(Buffer.from(await answer.arrayBuffer()).equals(file)).toBe(true)
    const [kept] = await served.clinic.in((tx) =>
      tx.unsafe('select length(packed) as bytes from import_original order by size desc limit 1'),
    )
    expect(Number(kept?.bytes)).toBeGreaterThan(8 * 1024 * 1024)
  })

  test('a file brought twice at once books each visit and each patient once', async () => {
    const twins = list(
      ...['a', 'b', 'c'].map((id, index) =>
        row({ id: `twin-${id}`, start: `1${index}:00`, patient: `Twinned${id}, Ann`, operatory: '2' }),
      ),
    )
    const counts = (await Promise.all([served.bring(twins), served.bring(twins)])).map((performed) =>
      performed.refused ? performed : performed.change.put.importBatch?.[0]?.counts,
    )
    expect(counts).toContainEqual(expect.objectContaining({ new: 3, unchanged: 0 }))
    expect(counts).toContainEqual(expect.objectContaining({ new: 0, unchanged: 3 }))
    const kept = await served.clinic.in((tx) =>
      tx.unsafe("select family from patient where family like 'Twinned%' order by family"),
    )
    expect(kept.map(({ family }) => family)).toEqual(['Twinneda', 'Twinnedb', 'Twinnedc'])
  })

  test('a file of which nothing can be taken is not kept and moves nothing', async () => {
    const before = [await revision(), (await originals()).length]
    expect(await served.bring('BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n')).toMatchObject({ refused: true })
    expect([await revision(), (await originals()).length]).toEqual(before)
  })

  test('a long one says where it stands, can be stopped until it is kept, and then has moved nothing', async () => {
    const before = [await revision(), (await originals()).length]
    const stop = new AbortController()
    const told: RunProgress[] = []
    const taking = takeBrought(
      served.house,
      { clinicId: served.clinic.clinicId, memberId: served.clinic.manager, station: 'test' },
      {
        bytes: Buffer.from(thousand),
        fileName: 'long.csv',
        source: 'front desk',
        mapping: {},
        dateOrder: null,
        notation: 'iso',
        zone: null,
      },
      {
        signal: stop.signal,
        tell: (progress) => {
          told.push(progress)
          if (progress.step === 'comparing') setTimeout(() => stop.abort(), 20)
        },
      },
    )
    await expect(taking).rejects.toThrow('Stopped')
    expect(told).toEqual([{ step: 'reading' }, { step: 'comparing', rows: 1000 }])
    expect([await revision(), (await originals()).length]).toEqual(before)
  })

  test('a thousand appointments are one batch and one revision, and hold nobody up for long', async () => {
    const before = Number((await revision())?.revision)
    const delay = monitorEventLoopDelay({ resolution: 2 })
    delay.enable()
    const performed = await served.bring(thousand)
    delay.disable()
    expect(performed).toMatchObject({
      refused: false,
      revision: before + 1,
      change: { put: { importBatch: [{ counts: { new: 1000, problems: 0 } }] } },
    })
    // Far above the figure to reach, 100 ms: other tests share the machine while this one runs. Deciding here took 4 s.
    expect(delay.max / 1e6).toBeLessThan(1000)
    const again = await served.bring(thousand)
    expect(again).toMatchObject({
      change: { put: { importBatch: [{ counts: { new: 0, changed: 0, unchanged: 1000, vanished: 0 } }] } },
    })
  })

  test('it is answered line by line where progress is asked for', async () => {
    const cookie = manager
    const answer = await fetch(
      `${served.at}/api/import?mode=take&name=day.csv&source=front+desk&notation=iso&progress=1`,
      { method: 'POST', body: list(row({ id: 'z', day: '2026-12-01' })), headers: { cookie } },
    )
    const lines = (await answer.text())
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(lines.map(({ step }) => step)).toEqual(['reading', 'comparing', 'keeping', 'done'])
    expect(lines.at(-1)).toMatchObject({ status: 200, body: { refused: false, counts: { new: 1 } } })
  })
})
