/** An expected outcome: a value, or a refusal that carries its reasons. */
export type Result<T, Reason> = { ok: true; value: T } | { ok: false; reasons: Reason[] }

export const ok = <T>(value: T): { ok: true; value: T } => ({ ok: true, value })
export const refuse = <Reason>(...reasons: Reason[]): { ok: false; reasons: Reason[] } => ({
  ok: false,
  reasons,
})
