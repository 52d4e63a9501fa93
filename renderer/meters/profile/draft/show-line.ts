import { createLineDecoder } from '../../../../shared/instruments/decode.ts';
import { findReadNumber } from '../../../../shared/instruments/derive/derive-profile.ts';
import { tokenizeLine, type CommaMeaning, type LineToken } from '../../../../shared/instruments/derive/line-tokens.ts';
import type { Profile } from '../../../../shared/model/profile.ts';
import type { Role } from '../../../../shared/model/reading.ts';
import { flagWords } from '../../../ui/flag-words.ts';
import { readingText } from '../../reading-text.ts';

/** A part of a line, and the channel whose number it is. */
export interface ShownPart extends LineToken {
  role: Role | undefined;
}

export interface ShownLine {
  text: string;
  parts: ShownPart[];
  values: { role: Role; text: string; unit: string; isBad: boolean }[];
  /** Whether every channel found in the line gives a number or an overload. */
  isRead: boolean;
}

/** Lines with the values that the profile reads from them; without a profile only their parts. */
export function showLines(lines: readonly string[], profile: Profile | undefined, comma: CommaMeaning): ShownLine[] {
  // The number pointed at is the one before scale and offset.
  const unscaled = profile && {
    ...profile,
    channels: profile.channels.map((one) => ({ ...one, scale: 1, offset: 0 })),
  };
  const decode = profile && createLineDecoder(profile);
  const decodeUnscaled = unscaled && createLineDecoder(unscaled);
  return lines.map((text) => {
    const readings = decode?.(text) ?? [];
    const places = unscaled?.channels.map(({ role, unit }) => ({
      role,
      from: findReadNumber(decodeUnscaled!, text, role, unit as never, comma)?.from,
    }));
    return {
      text,
      parts: tokenizeLine(text, comma).map((part) => ({
        ...part,
        role: places?.find(({ from }) => from === part.from)?.role,
      })),
      values: readings.map((reading) => ({
        role: reading.role,
        ...(reading.flag ? { text: flagWords[reading.flag], unit: '' } : readingText(reading)),
        isBad: reading.flag !== undefined,
      })),
      isRead: readings.length > 0 && readings.every(({ flag }) => flag === undefined || flag === 'overload'),
    };
  });
}
