import { unitsOfRole, type Role, type Unit } from '../../../../shared/model/reading.ts';
import { unitLabel } from '../../../../shared/model/format.ts';

/** The units of a role, as choices. */
export const unitChoices = (role: Role): { value: Unit; label: string }[] =>
  unitsOfRole[role].map((unit) => ({ value: unit, label: unitLabel(unit) }));

// The usual units of the trade: inches of water for draft and gas, volts at a flame amplifier's test jacks.
const usual: Partial<Record<Role, Unit>> = { pilot_pressure: 'inH2O', fan_pressure: 'inH2O', supply_pressure: 'inH2O', furnace_pressure: 'inH2O', flame_signal: 'V' }; // prettier-ignore

/** The unit offered first. */
export const usualUnit = (role: Role): Unit => usual[role] ?? unitsOfRole[role][0];
