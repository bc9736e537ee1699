import styles from './field.module.css'

export interface PickProps<Value extends string> {
  label: string
  name?: string
  value: Value
  options: readonly { value: Value; label: string }[]
  onPick: (value: Value) => void
}

/** One of a list, by the platform's own control. */
export function Pick<Value extends string>({ label, name, value, options, onPick }: PickProps<Value>) {
  const pick = (text: string) => {
    const found = options.find((option) => option.value === text)
    if (found) onPick(found.value)
  }
  return (
    <label className={styles.field}>
      <span className={styles.label}>{label}</span>
      <select
        className={styles.input}
        name={name}
        value={value}
        onChange={(event) => pick(event.target.value)}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </label>
  )
}
