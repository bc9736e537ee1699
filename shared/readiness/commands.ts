export const READINESS_COMMANDS = {}
