export const ALLERGY_COMMANDS = {}
