'use client'
import { type FormEvent, useEffect, useRef, useState } from 'react'
import { parsePackCode } from '#shared/sterility/pack-code.ts'
import { Button } from './button.tsx'
import { Field } from './field.tsx'
import styles from './scan.module.css'
import { CameraScan } from './scan-camera.tsx'
import { openWedge } from './scan-wedge.ts'

export interface ScanProps {
  label: string
  /** What the button beside the field does with a code. */
  act: string
  /** Takes a code; true when it was taken and the field may be cleared. */
  onCode: (code: string) => Promise<boolean>
}

/**
 * A pack's code by hand scanner, camera or keyboard. A scanner is heard wherever the focus stands on the page, but in
 * another field, where it would be typing.
 */
export function ScanField({ label, act, onCode }: ScanProps) {
  const [text, setText] = useState('')
  const take = async (raw: string) => {
    const code = parsePackCode(raw) ?? raw.trim()
    if (code !== '' && (await onCode(code))) setText('')
  }
  useWedge(take)
  const submit = (event: FormEvent) => {
    event.preventDefault()
    void take(text)
  }
  return (
    <form className={styles.scan} onSubmit={submit}>
      <Field
        label={label}
        hint="Scan the code on the pack, or type it and press Enter."
        value={text}
        onChange={setText}
        autoComplete="off"
        spellCheck="false"
      />
      <Button type="submit">{act}</Button>
      <CameraScan onCode={take} />
    </form>
  )
}

const isTyping = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest('input, textarea, select, [contenteditable]') !== null

/** Hears a hand scanner on the whole page. Its Enter does not press the button that has the focus. */
function useWedge(onCode: (code: string) => void): void {
  const found = useRef(onCode)
  found.current = onCode
  useEffect(() => {
    const hear = openWedge()
    const onKey = (event: KeyboardEvent) => {
      if (isTyping(event.target) || event.ctrlKey || event.altKey || event.metaKey) return
      const code = hear({ key: event.key, at: event.timeStamp })
      if (code === null) return
      event.preventDefault()
      event.stopImmediatePropagation()
      found.current(code)
    }
    window.addEventListener('keydown', onKey, { capture: true })
    return () => window.removeEventListener('keydown', onKey, { capture: true })
  }, [])
}
