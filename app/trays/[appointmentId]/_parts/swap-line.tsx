'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import type { TrayLine } from '#shared/trays/tray.ts'

type Latex = TrayLine['contents'][string]
const LABEL_SAYS: { value: Latex; label: string }[] = [
  { value: 'unknown', label: 'the label does not say' },
  { value: 'free', label: 'made without latex' },
  { value: 'contains', label: 'contains latex' },
]

interface SwapLineProps {
  line: TrayLine
  performing: Performing
  onDone: () => void
}

/** Another item instead, with what its own label says of latex. It has to be looked at and ticked again. */
export function SwapLine({ line, performing, onDone }: SwapLineProps) {
  const [name, setName] = useState('')
  const [latex, setLatex] = useState<Latex>('unknown')
  return (
    <FieldGroup title="Or swap it">
      <Field label="What lies there instead" value={name} onChange={setName} autoComplete="off" />
      <Pick label="Latex, by its label" value={latex} options={LABEL_SAYS} onPick={setLatex} />
      <ActButton
        kind="tray.swap"
        input={{ trayId: line.trayId, lineId: line.id, name, contents: { latex } }}
        performing={performing}
        isDisabled={name.trim() === ''}
        done="Swapped: look at it and tick it."
        onDone={onDone}
      >
        Swap it
      </ActButton>
    </FieldGroup>
  )
}
