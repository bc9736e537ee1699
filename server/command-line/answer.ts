/** What a verb prints: one JSON object, and the exit code: 0 done, 1 refused with findings, 2 bad usage. */
export interface VerbAnswer {
  body: object
  exit: 0 | 1 | 2
}

/** Bad usage or bad input, as a refusal whose finding says what, why and what to do. */
export const badUsage = (text: string): VerbAnswer => ({
  body: {
    refused: true,
    findings: [{ rule: 'command-line/usage', level: 'stop', about: 'command line', text }],
  },
  exit: 2,
})
