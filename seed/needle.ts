import type { Act } from './acts.ts'

export const anaesthesia: Act = () => []
export const injection: Act = () => []
export const numbness: Act = () => []
export const aftercare: Act = () => []
