import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { readBarcodes } from 'zxing-wasm/reader'
import { type CodePicture, labelsOf, makeCodePicture } from '#server/exports/labels.ts'
import { must } from '#shared/base/assert.ts'
import type { Facts, World } from '#shared/facts.ts'
import { makePackCode, parsePackCode } from '#shared/sterility/pack-code.ts'
import { prepareBarcodeReader } from '../../support/barcodes.ts'
import { at, bareClinic, CLINIC, nextId, PEOPLE, SITE } from '../../support/tray-clinic.ts'

interface Raster {
  data: Uint8ClampedArray
  width: number
  height: number
}

interface Camera {
  /** Pixels along one module. */
  scale: number
  /** Degrees, about the middle. */
  turn: number
  /** Grey levels of noise either way, of 255. */
  noise: number
}

/** Which modules are dark, from the path as any SVG reader would fill it: rows of `M x y h n v1 h-n z`. */
function modulesOf({ path, size }: CodePicture): boolean[][] {
  const rows = Array.from({ length: size }, () => Array.from({ length: size }, () => false))
  const runs = [...path.matchAll(/M(\d+) (\d+)h(\d+)v1h-(\d+)z/g)]
  expect(runs.map(([run]) => run).join('')).toBe(path)
  for (const [, x, y, length, back] of runs) {
    expect(length).toBe(back)
    const row = must(rows[Number(y)], 'a row of the symbol')
    for (let module = 0; module < Number(length); module++) row[Number(x) + module] = true
  }
  return rows
}

/** A photograph of a printed label: turned, grey on grey, with noise and paper around it. */
function photograph(picture: CodePicture, { scale, turn, noise }: Camera): Raster {
  const modules = modulesOf(picture)
  const width = Math.ceil(picture.size * scale * 1.6)
  const data = new Uint8ClampedArray(width * width * 4)
  const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)]
  const middle = width / 2
  let random = 1
  for (let y = 0; y < width; y++) {
    for (let x = 0; x < width; x++) {
      const [dx, dy] = [(x - middle) / scale, (y - middle) / scale]
      const column = Math.floor(dx * cos + dy * sin + picture.size / 2)
      const row = Math.floor(dy * cos - dx * sin + picture.size / 2)
      random = (random * 16_807) % 2_147_483_647
      const grey = (modules[row]?.[column] ? 60 : 205) + ((random % (2 * noise + 1)) - noise)
      data.set([grey, grey, grey, 255], (y * width + x) * 4)
    }
  }
  return { data, width, height: width }
}

const scanned = async (raster: Raster): Promise<string[]> => {
  const image = { ...raster, colorSpace: 'srgb' } as ImageData
  const found = await readBarcodes(image, { formats: ['QRCode'], tryHarder: true })
  return found.map(({ text }) => text)
}

describe('pack labels', () => {
  beforeAll(prepareBarcodeReader)

  it('any code is read back from its picture by another library, and has its four light modules around it', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uuid(), async (uuid) => {
        const code = makePackCode(uuid)
        const picture = makeCodePicture(code)
        const rows = modulesOf(picture)
        const inside = rows.slice(4, -4).map((row) => row.slice(4, -4))
        expect(rows.flat().filter(Boolean)).toHaveLength(inside.flat().filter(Boolean).length)
        expect(inside[0]?.[0]).toBe(true)
        expect(await scanned(photograph(picture, { scale: 4, turn: 0, noise: 0 }))).toEqual([code])
      }),
      { numRuns: 60 },
    )
  })

  it('a turned, grey and noisy photograph of it is read too', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uuid(),
        fc.record({
          scale: fc.integer({ min: 5, max: 9 }),
          turn: fc.integer({ min: 0, max: 359 }),
          noise: fc.integer({ min: 0, max: 24 }),
        }),
        async (uuid, camera) => {
          const code = makePackCode(uuid)
          expect(await scanned(photograph(makeCodePicture(code), camera))).toEqual([code])
        },
      ),
      { numRuns: 60 },
    )
  })

  it('what is read is the code as the product parses it', async () => {
    const code = makePackCode('00000000-0000-4000-8000-000000000001')
    const [text = ''] = await scanned(photograph(makeCodePicture(code), { scale: 6, turn: 12, noise: 10 }))
    expect(parsePackCode(text)).toBe(code)
  })

  const steriliserId = nextId<Facts['steriliser']['id']>()
  const loadId = nextId<Facts['load']['id']>()
  const setId = nextId<Facts['instrumentSet']['id']>()
  const packOf = (code: string, more: Partial<Facts['pack']> = {}): Facts['pack'] => ({
    clinicId: CLINIC,
    id: nextId(),
    siteId: SITE,
    code,
    kind: 'dam-set',
    setId,
    loadId,
    sterilised: null,
    seen: null,
    life: { kind: 'shelf', place: 'bay' },
    ...more,
  })
  const clinic = (life: Facts['load']['life'], pack: Facts['pack'][]): World => ({
    ...bareClinic(),
    steriliser: [
      {
        clinicId: CLINIC,
        id: steriliserId,
        siteId: SITE,
        name: 'S1',
        type: 'gravity',
        life: { kind: 'in-service' },
      },
    ],
    load: [
      {
        clinicId: CLINIC,
        id: loadId,
        steriliserId,
        number: 'L-7',
        programme: 'wrapped-instruments',
        reading: null,
        started: at('08:00'),
        life,
      },
    ],
    instrumentSet: [
      {
        clinicId: CLINIC,
        id: setId,
        kind: 'dam-set',
        mark: 'blue 4',
        homeSiteId: SITE,
        place: { kind: 'shelf', siteId: SITE },
        incomplete: false,
      },
    ],
    pack,
  })
  const running = { kind: 'running' } as const

  it('each pack that can still be used has one, with what is looked for on a shelf', () => {
    const world = clinic(running, [
      packOf('B'),
      packOf('A', { sterilised: '2026-11-20' as Facts['pack']['sterilised'] }),
    ])
    expect(labelsOf(world, loadId)).toMatchObject([
      { code: 'A', day: '2026-11-20', mark: 'blue 4', load: 'L-7', steriliser: 'S1', kind: 'dam-set' },
      { code: 'B', day: '2026-11-24' },
    ])
  })
  it('none is made for a used, held or other load’s pack, nor for any of a failed load', () => {
    const opened = {
      kind: 'opened',
      appointmentId: nextId<Facts['appointment']['id']>(),
      at: at('09:00'),
    } as const
    const held = { kind: 'held', why: 'torn', at: at('09:00') } as const
    const packs = [
      packOf('A', { life: opened }),
      packOf('B', { life: held }),
      packOf('C', { loadId: nextId() }),
    ]
    expect(labelsOf(clinic(running, packs), loadId)).toEqual([])
    const failed = { kind: 'failed', at: at('09:00'), by: PEOPLE.lead.id, why: 'wet' } as const
    expect(labelsOf(clinic(failed, [packOf('A')]), loadId)).toEqual([])
  })
})
