import { type Role, roles, type Unit, unitFits } from '../../model/reading.ts';
import { unitsIn, type WrittenUnit } from './written-units.ts';

/** A column with what its heading says. */
export interface ColumnGuess {
  index: number;
  name: string;
  role?: Role;
  /** Units in heading and line of units, those of one size once; a map may say one of them, or any where there is none. */
  written: WrittenUnit[];
  /** The one that is certain. */
  unit?: WrittenUnit;
  /** What stands where a unit belongs and is none. */
  other?: string;
  /** What speaks for the role, or against one. */
  because: string;
}

const pressureWord =
  /press|druck|pression|presi[oó]n|pressione|press[aã]o|try(?:c)?k|tlak|ci[sś]nienie|paine|^p(?:\d|\b)/iu;
const flameWord = /flam|llama|fiamma|p[lł]omie|vlam|liekki|ioni[sz]/iu;
const signalWord = /signal|se[nñ]al|segnale|sinal/iu;
const otherPressures: [RegExp, Role][] = [
  [/fan|blower|gebl[aä]se|ventil/iu, 'fan_pressure'],
  [/supply|inlet|vordruck/iu, 'supply_pressure'],
  [/furnace|draft|feuerraum/iu, 'furnace_pressure'],
];
const pilotWord = /pilot|gas|z[uü]nd|veilleuse/iu;
/** Media and kinds of value that are not the pilot's gas as measured, whatever else the name says. */
const otherMedium =
  /\bair|\bluft|combustion|verbrennung|wind ?box|steam|dampf|vap(?:eu|o)r|water|wasser|\bagua|\bacqua|\beau\b|\boil|[oö]ldruck|huile|aceite|hydraul|coolant|vacuum|exhaust|flue|stack|smoke|abgas|rauchgas|nitrogen|oxygen|set ?point|sollwert|consigne|target|limit|alarm|threshold|diff|delta|\bdp\b/iu;
/** Places at which gas has another pressure than at the pilot, unless the name speaks of the pilot too. */
const otherPlace =
  /\bmain|\bhaupt|manifold|burner|brenner|br[uû]leur|quemador|header|boiler|kessel|chamber|tank|cylinder|\bline\b|upstream|room|ambient/iu;
const ofPilot = /pilot|z[uü]nd|veilleuse/iu;
/** What is told of a flame and is not its signal. */
const otherOfFlame =
  /temp|color|colour|farbe|status|state|relay|relais|count|time|dauer|set ?point|limit|alarm|threshold/iu;
/** A value made of many readings. */
const statistic =
  /\bmax|\bmin(?:\b|[ai]|dest)|\b(?:avg|average|mean|median|mittel\w*|moy(?:enne)?|promedio|media|std(?: ?dev)?|stdev|stddev|sd|sigma|variance|peak|range|spanne|sum|total)\b/iu;
/** Pressures that count from the vacuum or are those of the air; psia and mbar(a) among them. */
const notGauge = /abs|baro|atmos|luftdruck|(?:bar|psi|pa)[\s_]?[[(]?a[\])]?(?![\p{L}\d])/iu;
/** A name that says nothing: then the unit may. */
const generic = /^(?:(?:ch|chan|channel|kanal|canal|canale|voie|input|value|wert|valor|valeur|ai)[\s._-]*\d*|)$/iu;

/** The name in words: "MainGas_pressure" is "Main Gas pressure". A column of water is a unit, not a medium. */
const inWords = (name: string): string =>
  name
    .replaceAll(/([a-z])([A-Z])/gu, '$1 $2')
    .replaceAll(/[\s_./-]+/gu, ' ')
    .replaceAll(/in(?:ch(?:es)?)?(?: of)? water(?: column| gauge)?|water column|wassers[aä]ule/giu, '');

/** What the heading and the line of units say of each column. */
export const guessColumns = (names: string[], units: string[]): ColumnGuess[] =>
  names.map((heading, index) => {
    const own = roles.find((role) => heading.startsWith(`${role}_`) && unitFits(role, heading.slice(role.length + 1)));
    if (own) {
      const text = heading.slice(own.length + 1);
      const unit = { text, size: { unit: text as Unit, factor: 1 } };
      return { index, name: heading, role: own, written: [unit], unit, because: 'its name is that of a capture file' };
    }
    const { name, ...found } = unitsIn(heading, units[index]);
    const role =
      notGauge.test(heading) && !flameWord.test(name)
        ? { because: 'its name speaks of the pressure of the air' }
        : roleOf(name, found.written.find(({ size }) => size)?.size?.unit);
    return { index, name: heading, ...role, ...found };
  });

/** What speaks against a role where nothing speaks for one. */
export const nothingKnown = 'neither its name nor its unit says what it is';

function roleOf(heading: string, unit: Unit | undefined): { role?: Role; because: string } {
  const name = inWords(heading);
  const isPressure = unit !== undefined && unitFits('pilot_pressure', unit);
  const isSignal = unit !== undefined && unitFits('flame_signal', unit);
  if (statistic.test(name))
    return { because: 'its name speaks of a minimum, maximum, mean or the like in place of the reading' };
  const isOther = otherMedium.test(name) || (otherPlace.test(name) && !ofPilot.test(name));
  if (flameWord.test(name) || (signalWord.test(name) && !isPressure)) {
    const isOtherFlame = otherOfFlame.test(name) || (/\bmain|\bhaupt/iu.test(name) && !ofPilot.test(name));
    if (isOtherFlame || (!flameWord.test(name) && isOther))
      return { because: 'its name speaks of something else than the signal of the pilot flame' };
    return { role: 'flame_signal', because: 'its name speaks of a flame signal' };
  }
  if (pressureWord.test(name) || (isPressure && pilotWord.test(name))) {
    const other = otherPressures.find(([word]) => word.test(name));
    if (other) return { role: other[1], because: 'its name speaks of a pressure' };
    return isOther
      ? { because: 'its name speaks of another medium or place than the pilot gas' }
      : { role: 'pilot_pressure', because: 'its name speaks of a pressure' };
  }
  if (!generic.test(name)) return { because: nothingKnown };
  if (isPressure) return { role: 'pilot_pressure', because: 'its unit is one of pressure' };
  return isSignal && unit !== 'percent'
    ? { role: 'flame_signal', because: 'its unit is one of a flame signal' }
    : { because: nothingKnown };
}
