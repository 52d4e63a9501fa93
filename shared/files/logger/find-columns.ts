import { findUnit } from '../../instruments/unit-token.ts';
import { type Role, roles, type Unit, unitFits } from '../../model/reading.ts';

/** A column with what its heading says. */
export interface ColumnGuess {
  index: number;
  name: string;
  role?: Role;
  /** The unit as it is written, e.g. "bar". */
  unitText?: string;
  unit?: { unit: Unit; factor: number };
  /** What speaks for the role. */
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
const notGauge = /abs|baro|atmos|luftdruck/iu;
/** A name that says nothing: then the unit may. */
const generic = /^(?:(?:ch|chan|channel|kanal|canal|canale|voie|input|value|wert|valor|valeur|ai)[\s._-]*\d*|)$/iu;

/** The unit as it is written, where all of the text is one, and for the role if that is known. */
export function exactUnit(text: string): { unit: Unit; factor: number } | undefined {
  const exact = roles.some((role) => unitFits(role, text));
  return exact ? { unit: text as Unit, factor: 1 } : findUnit(text.replaceAll(/\s/gu, ''));
}

/** Units that loggers write and that are not read here: named, and never taken for part of the name. */
const unreadUnit =
  /^(?:in\.?hg|"hg|[mc]m\.?hg|torr|atm|ata|ati|kgf?\/?cm[2²]|oz\/?in[2²]?|osi|ozin|mpa|ksi|ft\.?h2o|ftwc|m\.?h2o|mwc|°[cf]|deg[cf]|ohms?|hz|rpm)$/iu;

/** The name in words: "MainGas_pressure" is "Main Gas pressure". A column of water is a unit, not a medium. */
const inWords = (name: string): string =>
  name
    .replaceAll(/([a-z])([A-Z])/gu, '$1 $2')
    .replaceAll(/[\s_./-]+/gu, ' ')
    .replaceAll(/in(?:ch(?:es)?)?(?: of)? water(?: column| gauge)?|water column|wassers[aä]ule/giu, '');

/** Splits "Druck [mbar]", "Druck/mbar", "Druck, mbar", "Druck mbar". A lone A is no unit: it may count the channels. */
function splitName(heading: string): { name: string; unitText?: string } {
  const enclosed =
    /^(.*?)\s*[[(]\s*([^\])]*?)\s*[\])]$/u.exec(heading) ?? /^(.*\S)\s*[/,]\s*(\S[^/,]*)$/u.exec(heading);
  if (enclosed && enclosed[2] !== '') return { name: enclosed[1]!, unitText: enclosed[2]! };
  const word = /^(?:(.*\S)[\s_])?(\S+)$/u.exec(heading);
  if (word?.[1] !== undefined && unreadUnit.test(word[2]!)) return { name: word[1], unitText: word[2]! };
  if (word && word[2] !== 'A' && word[2] !== 'a' && word[2] !== 'v' && exactUnit(word[2]!))
    return { name: word[1] ?? '', unitText: word[2]! };
  return { name: heading };
}

/** What the heading and the line of units say of each column. */
export const guessColumns = (names: string[], units: string[]): ColumnGuess[] =>
  names.map((heading, index) => {
    const own = roles.find((role) => heading.startsWith(`${role}_`) && unitFits(role, heading.slice(role.length + 1)));
    if (own) {
      const unitText = heading.slice(own.length + 1);
      const unit = { unit: unitText as Unit, factor: 1 };
      return { index, name: heading, role: own, unitText, unit, because: 'its name is that of a capture file' };
    }
    const split = splitName(heading);
    const below = units[index] === '' ? undefined : units[index];
    const unitText = below ?? split.unitText;
    const found = unitText === undefined ? undefined : exactUnit(unitText);
    // Two units that differ are none.
    const clash =
      below !== undefined && split.unitText !== undefined && exactUnit(split.unitText)?.unit !== found?.unit;
    const { role, because } = roleOf(split.name, found?.unit);
    const unit = found && !clash && (!role || unitFits(role, found.unit)) ? found : undefined;
    return {
      index,
      name: heading,
      because,
      ...(role && { role }),
      ...(unitText !== undefined && { unitText }),
      ...(unit && { unit }),
    };
  });

function roleOf(heading: string, unit: Unit | undefined): { role?: Role; because: string } {
  const name = inWords(heading);
  const isPressure = unit !== undefined && unitFits('pilot_pressure', unit);
  const isSignal = unit !== undefined && unitFits('flame_signal', unit);
  const isOther = otherMedium.test(name) || (otherPlace.test(name) && !ofPilot.test(name));
  if (flameWord.test(name) || (signalWord.test(name) && !isPressure)) {
    const isOtherFlame = otherOfFlame.test(name) || (/\bmain|\bhaupt/iu.test(name) && !ofPilot.test(name));
    if (isOtherFlame || (!flameWord.test(name) && isOther))
      return { because: 'its name speaks of something else than the signal of the pilot flame' };
    return { role: 'flame_signal', because: 'its name speaks of a flame signal' };
  }
  if (notGauge.test(name)) return { because: 'its name speaks of the pressure of the air' };
  if (pressureWord.test(name) || (isPressure && pilotWord.test(name))) {
    const other = otherPressures.find(([word]) => word.test(name));
    if (other) return { role: other[1], because: 'its name speaks of a pressure' };
    return isOther
      ? { because: 'its name speaks of another medium or place than the pilot gas' }
      : { role: 'pilot_pressure', because: 'its name speaks of a pressure' };
  }
  if (!generic.test(name)) return { because: 'its name says nothing known' };
  if (isPressure) return { role: 'pilot_pressure', because: 'its unit is one of pressure' };
  return isSignal && unit !== 'percent'
    ? { role: 'flame_signal', because: 'its unit is one of a flame signal' }
    : { because: 'neither its name nor its unit says what it is' };
}
