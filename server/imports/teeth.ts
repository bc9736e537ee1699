import { SURFACES, type Surface } from '#shared/teeth/tooth.ts'

export const isSurface = (text: string): text is Surface => (SURFACES as readonly string[]).includes(text)
