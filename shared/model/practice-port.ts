/** Whether a port belongs to the practice bench and not to this computer: nothing on it is a real meter. */
export const isPracticePort = (port: string): boolean => port.startsWith('practice:');
