export const ISOLATION_COMMANDS = {}
