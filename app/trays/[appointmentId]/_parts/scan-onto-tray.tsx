'use client'
import { type FormEvent, useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import type { Tray } from '#shared/trays/tray.ts'
import styles from '../../_parts/trays.module.css'

const BEFORE_OPEN: readonly Tray['life']['kind'][] = ['claimed', 'laid-out', 'checked']

/** A scanner types the pack's code and presses Enter; so may a hand. */
export function ScanField({ tray, performing }: { tray: Tray; performing: Performing }) {
  const [code, setCode] = useState('')
  if (!BEFORE_OPEN.includes(tray.life.kind)) return null
  const scan = async (event: FormEvent) => {
    event.preventDefault()
    if (code.trim() === '') return
    const came = await performing.perform(
      'tray.scan',
      { trayId: tray.id, code },
      `Pack ${code} is on the tray.`,
    )
    if (came?.kind === 'done') setCode('')
  }
  return (
    <form className={styles.scan} onSubmit={scan}>
      <Field
        label="Scan a pack"
        hint="Scan the code on the pack, or type it and press Enter."
        value={code}
        onChange={setCode}
        autoComplete="off"
        spellCheck="false"
      />
      <Button type="submit">Put on tray</Button>
    </form>
  )
}
