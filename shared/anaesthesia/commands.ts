export const ANAESTHESIA_COMMANDS = {}
