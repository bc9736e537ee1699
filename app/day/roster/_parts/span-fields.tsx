import { Field } from '#app/_ui/field.tsx'
import styles from '../../_parts/day.module.css'
import type { Entered } from './spans.ts'

interface SpanRowsProps {
  name: string
  spans: Entered[]
  onSpans: (spans: Entered[]) => void
}

/** Several of a kind, told apart by their number where there may be more than one. */
export function SpanRows({ name, spans, onSpans }: SpanRowsProps) {
  return spans.map((span, index) => {
    const numbered = spans.length === 1 ? name : `${name} ${index + 1}`
    return (
      <SpanFields
        key={numbered}
        name={numbered}
        span={span}
        onSpan={(changed) => onSpans(spans.map((other, at) => (at === index ? changed : other)))}
      />
    )
  })
}

interface SpanFieldsProps {
  name: string
  span: Entered
  onSpan: (span: Entered) => void
}

export function SpanFields({ name, span, onSpan }: SpanFieldsProps) {
  return (
    <div className={styles.known}>
      <Field
        label={`${name} from`}
        type="time"
        value={span.from}
        onChange={(from) => onSpan({ ...span, from })}
      />
      <Field label={`${name} to`} type="time" value={span.to} onChange={(to) => onSpan({ ...span, to })} />
    </div>
  )
}
