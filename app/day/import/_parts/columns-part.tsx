import { Card } from '#app/_ui/card.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import styles from '../../_parts/day.module.css'
import type { PreviewColumn } from './bring.ts'
import { FIELD_WORDS, type FieldName, isFieldName, KEPT_IN_NOTE } from './field-words.ts'

const OPTIONS: { value: FieldName | ''; label: string }[] = [
  { value: '', label: KEPT_IN_NOTE },
  ...Object.entries(FIELD_WORDS).flatMap(([value, label]) => (isFieldName(value) ? [{ value, label }] : [])),
]

export interface ColumnsPartProps {
  columns: PreviewColumn[]
  /** What the person chose, over what the header says. */
  mapping: Record<string, string>
  onMap: (mapping: Record<string, string>) => void
}

/** What each column holds: proposed from its header, corrected here beside a sample of it, remembered for the source. */
export function ColumnsPart({ columns, mapping, onMap }: ColumnsPartProps) {
  return (
    <Card title="What each column holds">
      <div className={styles.columns}>
        {columns.map(({ header, field, sample }) => (
          <Pick
            key={header}
            label={sample ? `${header}: “${sample}”` : header}
            value={fieldOf(Object.hasOwn(mapping, header) ? (mapping[header] ?? null) : field)}
            options={OPTIONS}
            onPick={(chosen) => onMap({ ...mapping, [header]: chosen })}
          />
        ))}
      </div>
    </Card>
  )
}

const fieldOf = (text: string | null): FieldName | '' => (text !== null && isFieldName(text) ? text : '')
