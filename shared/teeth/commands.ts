export const TEETH_COMMANDS = {}
