'use client'
import { type RefObject, useEffect, useRef, useState } from 'react'
import type { Trouble } from '#app/_live/trouble.ts'
import { parsePackCode } from '#shared/sterility/pack-code.ts'
import { Button } from './button.tsx'
import { Dialog } from './dialog.tsx'
import styles from './scan.module.css'
import type { CodeReader } from './scan-reader.ts'
import { TroubleBox } from './trouble-box.tsx'

const NO_CAMERA: Trouble = {
  what: 'The camera cannot be used.',
  why: 'This screen has none, or it may not be used here.',
  todo: 'Allow it in the browser, take a photograph below, or type the code.',
}
const NO_READER: Trouble = {
  what: 'The code reader did not load.',
  why: 'No code can be read from a picture.',
  todo: 'Scan with the hand scanner, or type the code.',
}
const NOTHING_READ: Trouble = {
  what: 'No pack code was found in this photograph.',
  why: 'Nothing was changed.',
  todo: 'Hold the label flat and near, in good light, and take it again.',
}

/** Scans a label by the camera, or from a photograph where the browser gives no camera. */
export function CameraScan({ onCode }: { onCode: (code: string) => void }) {
  const [open, setOpen] = useState(false)
  const close = () => setOpen(false)
  return (
    <>
      <Button onPress={() => setOpen(true)}>Scan by camera</Button>
      <Dialog title="Hold the label before the camera" isOpen={open} onClose={close}>
        {open ? (
          <Viewfinder
            onCode={(code) => {
              close()
              onCode(code)
            }}
          />
        ) : null}
        <Button onPress={close}>Close</Button>
      </Dialog>
    </>
  )
}

/** Between two looks at the picture, so that a tablet stays cool. */
const LOOK_EVERY_MS = 120

function Viewfinder({ onCode }: { onCode: (code: string) => void }) {
  const video = useRef<HTMLVideoElement>(null)
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const found = useRef(onCode)
  found.current = onCode
  useEffect(() => watch(video, { onCode: (code) => found.current(code), onTrouble: setTrouble }), [])
  return (
    <div className={styles.finder}>
      <video ref={video} className={styles.video} playsInline muted aria-label="What the camera sees" />
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      <Photograph onCode={onCode} onTrouble={setTrouble} />
    </div>
  )
}

interface Doors {
  onCode: (code: string) => void
  onTrouble: (trouble: Trouble | null) => void
}

/** Looks through the camera until a pack code is seen; gives back what ends it. */
function watch(video: RefObject<HTMLVideoElement | null>, doors: Doors): () => void {
  let over = false
  let stream: MediaStream | null = null
  let reader: CodeReader | null = null
  const end = () => {
    over = true
    for (const track of stream?.getTracks() ?? []) track.stop()
    reader?.close()
  }
  const run = async () => {
    stream = await openCamera()
    const shown = video.current
    if (over || !shown) return end()
    if (!stream) return doors.onTrouble(NO_CAMERA)
    shown.srcObject = stream
    await shown.play()
    reader = (await import('./scan-reader.ts')).openCodeReader()
    while (!over) {
      const picture = pictureOf(shown, { width: shown.videoWidth, height: shown.videoHeight })
      const code = picture && (await reader.read(picture).then(codeIn))
      if (code && !over) {
        end()
        return doors.onCode(code)
      }
      await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS))
    }
  }
  run().catch(() => {
    if (!over) doors.onTrouble(NO_READER)
    end()
  })
  return end
}

/** Null where there is none, it is refused, or the page is not served safely enough for the browser to give it. */
const openCamera = async (): Promise<MediaStream | null> =>
  navigator.mediaDevices
    ?.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 1280 } }, audio: false })
    .catch(() => null) ?? null

const codeIn = (texts: string[]): string | null =>
  texts.flatMap((text) => parsePackCode(text) ?? [])[0] ?? null

function pictureOf(
  source: CanvasImageSource,
  { width, height }: { width: number; height: number },
): ImageData | null {
  if (width === 0 || height === 0) return null
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const context = canvas.getContext('2d', { willReadFrequently: true })
  context?.drawImage(source, 0, 0, width, height)
  return context?.getImageData(0, 0, width, height) ?? null
}

/** A photograph is large enough to be read at this many pixels along its longer side. */
const PHOTOGRAPH = 1600

function Photograph({ onCode, onTrouble }: Doors) {
  const take = async (file: File | undefined) => {
    if (!file) return
    onTrouble(null)
    const code = await readPhotograph(file).catch(() => undefined)
    if (code === undefined) onTrouble(NO_READER)
    else if (code === null) onTrouble(NOTHING_READ)
    else onCode(code)
  }
  return (
    <label className={styles.photograph}>
      Take or choose a photograph
      <input
        type="file"
        accept="image/*"
        capture="environment"
        onChange={(event) => take(event.target.files?.[0])}
      />
    </label>
  )
}

async function readPhotograph(file: File): Promise<string | null> {
  const { openCodeReader } = await import('./scan-reader.ts')
  const bitmap = await createImageBitmap(file)
  const scale = Math.min(1, PHOTOGRAPH / Math.max(bitmap.width, bitmap.height))
  const size = { width: Math.round(bitmap.width * scale), height: Math.round(bitmap.height * scale) }
  const picture = pictureOf(bitmap, size)
  const reader = openCodeReader()
  try {
    return picture && (await reader.read(picture).then(codeIn))
  } finally {
    reader.close()
  }
}
