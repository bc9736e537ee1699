'use client'
import { Field } from '#app/_ui/field.tsx'

interface NumberFieldProps {
  label: string
  hint?: string
  value: number
  onValue: (value: number) => void
}

/** Whole numbers only. What is no number is not taken over, and the field says so by keeping what stood. */
export function NumberField({ label, hint, value, onValue }: NumberFieldProps) {
  const take = (text: string) => {
    if (/^\d{0,4}$/.test(text)) onValue(Number(text))
  }
  return (
    <Field label={label} {...(hint ? { hint } : {})} inputMode="numeric" value={`${value}`} onChange={take} />
  )
}
