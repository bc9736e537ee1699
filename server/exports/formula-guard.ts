/**
 * What a spreadsheet would run as a formula is kept from it by an apostrophe (OWASP, CSV injection, READ): at the
 * head of a cell, and after every sign at which a spreadsheet set to another country may split the cell, since the
 * quotes around it hold nothing together then. One apostrophe is always added, so that one can always be taken away.
 */
const RUN = '(?=[=+\\-@\uFF1D\uFF0B\uFF0D\uFF20])'
const HEAD = '(?<=(?:^|[,;|\\t\\r\\n])[\\s"\']*)'
const SPACE = '(?=[\\t\\r\\n])'

// The sign that runs is looked for first: only from there is it worth looking back.
const TO_GUARD = new RegExp(`${SPACE}(?<=^'*)|${RUN}${HEAD}`, 'g')
const GUARD = new RegExp(`'${SPACE}(?<=^'*)|'${RUN}${HEAD}`, 'g')

export const guardedText = (text: string): string => text.replace(TO_GUARD, "'")
/** The words of a cell that `guardedText` wrote. */
export const unguarded = (text: string): string => text.replace(GUARD, '')

const STARTS = /^'(?=[=+\-@\uFF1D\uFF0B\uFF0D\uFF20\t\r\n])/
/** The words of a cell that others may have guarded: only an apostrophe at its head is known to be none of them. */
export const unguardedStart = (text: string): string => text.replace(STARTS, '')
