import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import { findReadNumber } from '../../../shared/instruments/derive/derive-profile.ts';
import { tokenizeLine, type CommaMeaning, type LineToken } from '../../../shared/instruments/derive/line-tokens.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import type { Role } from '../../../shared/model/reading.ts';
import { shown } from '../MeterCard.tsx';
import { flagWords } from '../MeterCard.tsx';

/** A part of a line, and the channel whose number it is. */
export interface ShownPart extends LineToken {
  role: Role | undefined;
}

export interface ShownLine {
  text: string;
  parts: ShownPart[];
  values: { role: Role; text: string; unit: string; isBad: boolean }[];
  /** Whether every channel that the line speaks of gives a number or says overload. */
  isRead: boolean;
}

/** Lines as the profile reads them; without a profile only their parts. */
export function showLines(lines: readonly string[], profile: Profile | undefined, comma: CommaMeaning): ShownLine[] {
  // What is pointed at stands before scale and offset.
  const bare = profile && { ...profile, channels: profile.channels.map((one) => ({ ...one, scale: 1, offset: 0 })) };
  const [read, readBare] = [profile && createLineDecoder(profile), bare && createLineDecoder(bare)];
  return lines.map((text) => {
    const readings = read?.(text) ?? [];
    const places = bare?.channels.map(({ role, unit }) => ({
      role,
      from: findReadNumber(readBare!, text, role, unit as never, comma)?.from,
    }));
    return {
      text,
      parts: tokenizeLine(text, comma).map((part) => ({
        ...part,
        role: places?.find(({ from }) => from === part.from)?.role,
      })),
      values: readings.map((reading) => ({
        role: reading.role,
        ...(reading.flag ? { text: flagWords[reading.flag], unit: '' } : shown(reading)),
        isBad: reading.flag !== undefined,
      })),
      isRead: readings.length > 0 && readings.every(({ flag }) => flag === undefined || flag === 'overload'),
    };
  });
}
