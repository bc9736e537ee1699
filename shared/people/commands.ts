export const PEOPLE_COMMANDS = {}
