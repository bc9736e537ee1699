export const STERILITY_COMMANDS = {}
