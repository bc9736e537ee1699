/** How a source or a clinic numbers teeth; `ask` where it has not been said. */
export const NOTATIONS = ['ask', 'iso', 'universal', 'palmer'] as const
export type Notation = (typeof NOTATIONS)[number]
