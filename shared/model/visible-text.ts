/**
 * Characters that only steer: control characters but line end and tab, and all that turn the direction of writing (Unicode Bidirectional
 * Algorithm, UAX 9, 2.1 to 2.6).
 */
const steering = /[^\P{Cc}\n\t]|[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/**
 * Text from files and meters for people to read: it must neither steer a terminal nor mirror the sentence that it stands in. Characters
 * that only steer are shown as JSON has them, \u001b for escape; JSON stays the same value.
 */
export const visibleText = (text: string): string =>
  text.replace(steering, (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}`);
