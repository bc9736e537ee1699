export const PROCEDURE_COMMANDS = {}
