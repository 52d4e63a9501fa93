import { z } from 'zod';
import { roles, unitFits } from './reading.ts';
import { PressureUnit, SignalUnit } from './units.ts';

const Channel = z
  .object({
    role: z.enum(roles),
    unit: z.string(),
    /** value = scale x number + offset, in `unit`. */
    scale: z.number().default(1),
    offset: z.number().default(0),
    /** For `delimited`: which field, counted from 0. */
    field: z.number().int().min(0).optional(),
  })
  .refine((channel) => unitFits(channel.role, channel.unit), {
    error: (issue) => {
      const { role, unit } = issue.input as { role: string; unit: string };
      return `${role} cannot be in ${unit}`;
    },
  });

const Line = z.discriminatedUnion('format', [
  z.object({ format: z.literal('number') }),
  z.object({ format: z.literal('delimited'), delimiter: z.string().min(1).max(4) }),
  z.object({ format: z.literal('pattern'), pattern: z.string().min(1).max(400) }),
]);

/** How one meter is connected and read: CONTRACTS-stable JSON, built in or the user's own file. */
export const Profile = z
  .object({
    name: z.string().min(1).max(80),
    serial: z
      .object({
        baudRate: z.number().int().min(50).max(4_000_000).default(9600),
        dataBits: z.union([z.literal(7), z.literal(8)]).default(8),
        parity: z.enum(['none', 'even', 'odd']).default('none'),
        stopBits: z.union([z.literal(1), z.literal(2)]).default(1),
      })
      .prefault({}),
    mode: z.enum(['stream', 'poll']).default('stream'),
    poll: z.object({ send: z.string().min(1).max(100), everyMs: z.number().int().min(20).max(60_000) }).optional(),
    line: Line,
    channels: z.array(Channel).min(1).max(8),
    overload: z.array(z.string().min(1)).default(['OL', '-OL', '----']),
    accuracy: z
      .object({
        percentOfReading: z.number().min(0).default(0),
        absolute: z.number().min(0).default(0),
        unit: z.union([PressureUnit, SignalUnit]),
      })
      .optional(),
  })
  .superRefine((profile, context) => {
    const say = (message: string) => context.addIssue({ code: 'custom', message });
    if (profile.mode === 'poll' && !profile.poll) say('mode is poll, but poll says nothing to send');
    const seen = new Set<string>();
    for (const channel of profile.channels) {
      if (seen.has(channel.role)) say(`two channels give ${channel.role}`);
      seen.add(channel.role);
      if (profile.line.format === 'delimited' && channel.field === undefined)
        say(`the channel ${channel.role} does not say which field it is`);
    }
    if (profile.line.format === 'number' && profile.channels.length > 1)
      say('the format number reads one channel; use delimited or pattern for more');
  });
export type Profile = z.infer<typeof Profile>;
