'use client'
import type { ReactNode } from 'react'
import { FieldError } from 'react-aria-components/FieldError'
import { Input } from 'react-aria-components/Input'
import { Label } from 'react-aria-components/Label'
import { Text } from 'react-aria-components/Text'
import { TextField, type TextFieldProps } from 'react-aria-components/TextField'
import styles from './field.module.css'

export interface FieldProps extends Omit<TextFieldProps, 'className' | 'style' | 'children'> {
  label: string
  hint?: string
  /** What is wrong with it; shown under it and read out with it. */
  wrong?: string | null
  list?: string
}

/** A line of text to be entered: label, hint and what is wrong with it, wired together once. */
export function Field({ label, hint, wrong, list, ...rest }: FieldProps) {
  return (
    <TextField {...rest} className={styles.field ?? ''} isInvalid={Boolean(wrong)}>
      <Label className={styles.label ?? ''}>{label}</Label>
      <Input className={styles.input ?? ''} {...(list ? { list } : {})} />
      {hint ? (
        <Text slot="description" className={styles.hint ?? ''}>
          {hint}
        </Text>
      ) : null}
      <FieldError className={styles.wrong ?? ''}>{wrong}</FieldError>
    </TextField>
  )
}

/** Fields that belong together, under one heading. */
export function FieldGroup({ title, children }: { title: string; children: ReactNode }) {
  return (
    <fieldset className={styles.group}>
      <legend className={styles.legend}>{title}</legend>
      {children}
    </fieldset>
  )
}
