export const TRAY_COMMANDS = {}
