import { convertPressure, pascalsPer, type PressureUnit } from '../../shared/model/units.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

interface UnitRow {
  symbol: string;
  exact_or_defined_Pa: number | null;
  sp811_printed_Pa: number | null;
  printed_half_unit_Pa?: number;
  from_water_density_Pa?: { tanaka: number };
}

interface Example extends Partial<Record<PressureUnit, number>> {
  value: number;
  unit: PressureUnit;
  inH2O_conv?: number;
}

/** Our units by the symbols of the reference. `hPa` is a millibar by definition. */
const symbols: Partial<Record<PressureUnit, string>> = {
  inH2O: 'inH2O_conv',
  inH2O_4C: 'inH2O_4C',
  inH2O_60F: 'inH2O_60F',
  inH2O_20C: 'inH2O_20C',
  mmH2O: 'mmH2O_conv',
  psi: 'psi',
  mbar: 'mbar',
  hPa: 'mbar',
  kPa: 'kPa',
};

function run(): Row[] {
  const { expected, tolerance } = reference<object, { rows: UnitRow[]; examples: Example[] }>('pressure-units');
  const factors = (Object.entries(symbols) as [PressureUnit, string][]).flatMap(([unit, symbol]): Row[] => {
    const row = expected.rows.find((one) => one.symbol === symbol)!;
    const found = [pascalsPer[unit]];
    return [
      ...(row.exact_or_defined_Pa === null
        ? []
        : compareLists([unit], [row.exact_or_defined_Pa], found, { relative: tolerance['exact_units_rel']! })),
      ...(row.sp811_printed_Pa === null
        ? []
        : compareLists([`${unit}, printed`], [row.sp811_printed_Pa], found, {
            printed: row.printed_half_unit_Pa!,
          })),
      // The printed 4 and 60 degree columns rest on an older density of water, so only ours from that density is held to it.
      ...(row.sp811_printed_Pa === null && row.from_water_density_Pa
        ? compareLists([`${unit}, by density`], [row.from_water_density_Pa.tanaka], found, {
            relative: tolerance['density_based_rel']!,
          })
        : []),
    ];
  });
  const examples = expected.examples.flatMap(({ value, unit, inH2O_conv: inH2O, ...into }): Row[] =>
    (Object.entries({ ...into, ...(inH2O !== undefined && { inH2O }) }) as [PressureUnit, number][]).flatMap(
      ([to, converted]) =>
        compareLists([`${value} ${unit} in ${to}`], [converted], [convertPressure(value, unit, to)], {
          relative: tolerance[to === 'inH2O_20C' ? 'density_based_rel' : 'exact_units_rel']!,
        }),
    ),
  );
  return [...factors, ...examples];
}

export const units: Check[] = [
  {
    subject: 'Units',
    name: 'Pressure units',
    of: 'pascalsPer, convertPressure',
    source: 'NIST SP 811 (2008), B.8',
    origin: 'from memory',
    file: 'pressure-units',
    run,
  },
  {
    subject: 'Units',
    name: 'Water at 20 degC under inH2O_20C',
    of: 'pascalsPer',
    source: 'Tanaka et al. 2001',
    origin: 'from memory',
    file: 'water-density',
    run: () => {
      const { expected } = reference<object, { rows: { t_C: number; tanaka: number }[] }>('water-density');
      const density = pascalsPer.inH2O_20C / (9.80665 * 0.0254);
      const row = expected.rows.find(({ t_C }) => t_C === 20)!;
      // The unit is defined by the density as the table prints it, to four decimals.
      return compareLists(['density, kg/m3'], [row.tanaka], [density], { printed: 5e-5 });
    },
  },
];
