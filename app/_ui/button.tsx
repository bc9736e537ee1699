'use client'
import { Button as AriaButton, type ButtonProps as AriaButtonProps } from 'react-aria-components/Button'
import styles from './button.module.css'

export interface ButtonProps extends Omit<AriaButtonProps, 'className' | 'style'> {
  /** `main` 20 mm, `other` 15 mm, `small` 9 mm on the glass. */
  size?: 'main' | 'other' | 'small'
  tone?: 'ink' | 'plain' | 'stop' | 'link'
}

/** The one button of the house: acts on release, by mouse, finger, pen and keyboard alike. */
export function Button({ size = 'other', tone = 'plain', ...rest }: ButtonProps) {
  return <AriaButton {...rest} className={styles.button ?? ''} data-size={size} data-tone={tone} />
}
