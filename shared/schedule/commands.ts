export const SCHEDULE_COMMANDS = {}
