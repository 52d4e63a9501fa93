/** Whether a port belongs to the practice bench, where no meter is real. */
export const isPracticePort = (port: string): boolean => port.startsWith('practice:');
