/** A point of a picture, in its own millimetres. */
export interface Point {
  x: number
  y: number
}

/** Something a label may not touch. */
export interface Disc extends Point {
  r: number
}

export interface Box extends Point {
  /** Centre x, y; whole width and height. */
  w: number
  h: number
}

export interface Label extends Box {
  kind: 'tooth' | 'distance' | 'edge'
  text: string
}

/** What is to be written beside a point, on the side its arrow points to. */
export interface Wanted {
  kind: Label['kind']
  text: string
  at: Disc
  /** Unit vector: the side on which it belongs. */
  towards: Point
  /** Height of the letters. */
  size: number
}

interface Room {
  widthMm: number
  heightMm: number
  discs: readonly Disc[]
  taken: readonly Box[]
}

const LETTER = 0.62
const AIR = 0.6
const TURNS = [0, 0.25, -0.25, 0.5, -0.5, 0.8, -0.8, 1.1, -1.1, 1.5, -1.5, 2, -2, 2.6, -2.6, Math.PI]

export const boxOf = ({ text, size }: Pick<Wanted, 'text' | 'size'>, { x, y }: Point): Box => ({
  x,
  y,
  w: text.length * size * LETTER,
  h: size,
})

/** Places labels one after the other, each as near its point as it can stand without touching anything. */
export function placeLabels(wanted: readonly Wanted[], room: Room): Label[] {
  const placed: Label[] = []
  for (const one of wanted) {
    const box = findPlace(one, { ...room, taken: [...room.taken, ...placed] })
    if (box) placed.push({ ...box, kind: one.kind, text: one.text })
  }
  return placed
}

/** Nearest first, turning away from its own side only as far as it must; undefined where there is no room. */
function findPlace(one: Wanted, room: Room): Box | undefined {
  for (let step = 0; step < 60; step++) {
    const away = one.at.r + one.size * 0.5 + AIR + step * one.size * 0.25
    for (const turn of TURNS) {
      const box = boxAt(one, turnBy(one.towards, turn), away)
      if (isFree(box, room)) return box
    }
  }
  return undefined
}

function boxAt(one: Wanted, towards: Point, away: number): Box {
  const half = (one.text.length * one.size * LETTER) / 2
  return boxOf(one, {
    x: one.at.x + towards.x * (away + Math.max(0, half - one.size * 0.5)),
    y: one.at.y + towards.y * away,
  })
}

const turnBy = ({ x, y }: Point, angle: number): Point => ({
  x: x * Math.cos(angle) - y * Math.sin(angle),
  y: x * Math.sin(angle) + y * Math.cos(angle),
})

const isFree = (box: Box, { widthMm, heightMm, discs, taken }: Room): boolean =>
  box.x - box.w / 2 > AIR &&
  box.y - box.h / 2 > AIR &&
  box.x + box.w / 2 < widthMm - AIR &&
  box.y + box.h / 2 < heightMm - AIR &&
  !discs.some((disc) => touchesDisc(box, disc)) &&
  !taken.some((other) => touchesBox(box, other))

export const touchesDisc = (box: Box, disc: Disc): boolean => {
  const dx = Math.max(0, Math.abs(disc.x - box.x) - box.w / 2)
  const dy = Math.max(0, Math.abs(disc.y - box.y) - box.h / 2)
  return dx * dx + dy * dy < disc.r * disc.r
}

export const touchesBox = (a: Box, b: Box): boolean =>
  Math.abs(a.x - b.x) < (a.w + b.w) / 2 && Math.abs(a.y - b.y) < (a.h + b.h) / 2
