import { Profile } from '../../../../shared/model/profile.ts';
import type { Role, Unit } from '../../../../shared/model/reading.ts';
import { usualUnit } from './role-units.ts';

/** The fields of a Modbus RTU request, as typed. */
export interface RegisterFields {
  role: Role;
  unit: Unit;
  unitId: string;
  function: '3' | '4';
  /** As sent over the wire, counted from 0. */
  address: string;
  type: 'int16' | 'uint16' | 'int32' | 'float32';
  wordOrder: 'big' | 'little';
}

export const emptyRegister: RegisterFields = {
  role: 'pilot_pressure',
  unit: usualUnit('pilot_pressure'),
  unitId: '1',
  function: '3',
  address: '0',
  type: 'float32',
  wordOrder: 'big',
};

/** The `line` of a profile that requests the register; a field that is not a whole number is left for the schema to refuse. */
export const registerLine = (fields: RegisterFields): Record<string, unknown> => ({
  format: 'modbus-rtu',
  unitId: whole(fields.unitId),
  function: Number(fields.function),
  address: whole(fields.address),
  type: fields.type,
  wordOrder: fields.wordOrder,
});

const whole = (text: string): number | string => (/^\s*\d+\s*$/.test(text) ? Number(text) : text);

/** Whether profiles of this program can request registers at all. */
export const registersSupported: boolean = Profile.safeParse({
  name: 'register',
  mode: 'poll',
  poll: { everyMs: 500 },
  line: registerLine(emptyRegister),
  channels: [{ role: emptyRegister.role, unit: emptyRegister.unit }],
}).success;

/** The fields of a profile that requests one register; undefined for any other, or one that requests more than these fields hold. */
export function registerOfProfile(profile: Profile): RegisterFields | undefined {
  const line = profile.line as unknown as Record<string, unknown>;
  const [channel, ...more] = profile.channels;
  if (line['format'] !== 'modbus-rtu' || !channel || more.length > 0) return undefined;
  const own = { ...line, ...channel } as Record<string, unknown>;
  return {
    role: channel.role,
    unit: channel.unit as Unit,
    unitId: String(line['unitId']),
    function: own['function'] === 4 ? '4' : '3',
    address: String(own['address']),
    type: own['type'] as RegisterFields['type'],
    wordOrder: own['wordOrder'] === 'little' ? 'little' : 'big',
  };
}
