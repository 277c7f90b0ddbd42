import { writeDollars } from '../../../platform/csv/write-dollars.ts';
import { goodsUnitWords } from '../../../pricing/index.ts';

/** What a cell may hold once it is read; an empty one holds nothing. */
export type CellValue = string | number | readonly number[] | undefined;

export type CellReading = { value: CellValue } | { mistake: string };

/** How a value stands in a cell that people edit in a spreadsheet. */
export interface CellForm {
  /** @param cell trimmed, and not empty */
  read(cell: string): CellReading;
  write(value: NonNullable<CellValue>): string;
}

/** Text as it is: names, codes, and decimals, which stay text. */
export const asText: CellForm = {
  read: (cell) => ({ value: cell }),
  write: String,
};

/** One of these words. */
export function asOneOf(words: readonly string[]): CellForm {
  const mistake = `must be one of ${words.join(', ')}`;
  return { read: (cell) => (words.includes(cell) ? { value: cell } : { mistake }), write: String };
}

/** A whole number, not negative. */
export const asWhole: CellForm = {
  read: (cell) =>
    /^\d{1,12}$/.test(cell) ? { value: Number(cell) } : { mistake: 'must be a whole number' },
  write: String,
};

/** A number such as 7.5, with as many digits as JSON may give one; a tiny one may be 1E-7. */
export const asNumber: CellForm = {
  read: (cell) =>
    /^\d{1,21}(\.\d{1,25})?([eE][+-]?\d{1,3})?$/.test(cell)
      ? { value: Number(cell) }
      : { mistake: 'must be a number such as 7.5' },
  write: String,
};

/** Cents as dollars: 1840 is 18.40. Never by way of a binary fraction. */
export const asDollars: CellForm = {
  read: (cell) => {
    const { whole, fraction = '' } = DOLLARS.exec(cell)?.groups ?? {};
    if (whole === undefined) return { mistake: NO_DOLLARS };
    return { value: Number(whole) * 100 + Number(fraction.padEnd(2, '0')) };
  },
  write: (value) => writeDollars(Number(value)),
};

// Spreadsheets drop the last zero of 18.40, and all of 18.00.
const DOLLARS = /^(?<whole>\d{1,12})(\.(?<fraction>\d{1,2}))?$/;
const NO_DOLLARS = 'must be dollars such as 18.40, without a sign and without commas';

/** A time of day; spreadsheets write 08:00 as 8:00 or 8:00:00. */
export const asTimeOfDay: CellForm = {
  read: (cell) => {
    const { hours, minutes } = TIME_OF_DAY.exec(cell)?.groups ?? {};
    if (hours === undefined) return { mistake: 'must be a time such as 08:00' };
    return { value: `${hours.padStart(2, '0')}:${minutes}` };
  },
  write: String,
};

const TIME_OF_DAY = /^(?<hours>\d{1,2}):(?<minutes>\d{2})(:00)?$/;

/** Days of the week by their names, because a spreadsheet makes a date of 1-5. */
export const asWeekdays: CellForm = {
  read: (cell) => {
    const days = cell
      .toLowerCase()
      .split(/\s+/)
      .map((name) => WEEKDAYS.indexOf(name) + 1);
    return days.includes(0)
      ? { mistake: `must be days of: ${WEEKDAYS.join(' ')}` }
      : { value: days };
  },
  write: (value) =>
    [value]
      .flat()
      .map((day) => WEEKDAYS[Number(day) - 1])
      .join(' '),
};

const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];

/** A unit by the short word on the supplier's bill. */
export const asUnit: CellForm = {
  read: (cell) => {
    const unit = UNITS.find(([, word]) => word === cell.toLowerCase());
    if (unit !== undefined) return { value: unit[0] };
    return { mistake: `must be one of ${UNITS.map(([, word]) => word).join(', ')}` };
  },
  write: (value) => UNITS.find(([unit]) => unit === value)?.[1] ?? String(value),
};

const UNITS = Object.entries(goodsUnitWords);
