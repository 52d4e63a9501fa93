import { unitsOfRole, type Role, type Unit } from '../../../../shared/model/reading.ts';
import { unitLabel } from '../../profile-summary.ts';

/** The units of a role, as choices. */
export const unitChoices = (role: Role): { value: Unit; label: string }[] =>
  unitsOfRole[role].map((unit) => ({ value: unit, label: unitLabel(unit) }));

// The trade's usual ones here: inches of water for draught and gas, volts at a flame amplifier's jack (common practice).
const usual: Partial<Record<Role, Unit>> = { pilot_pressure: 'inH2O', fan_pressure: 'inH2O', supply_pressure: 'inH2O', furnace_pressure: 'inH2O', flame_signal: 'V' }; // prettier-ignore

/** The unit offered first. */
export const usualUnit = (role: Role): Unit => usual[role] ?? unitsOfRole[role][0];
