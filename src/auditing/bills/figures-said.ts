/** The figures of a bill that decide which part it was. */
export interface FiguresSaid {
  readonly hermUf?: number;
  readonly fanUf?: number;
  readonly microfarads?: number;
  readonly volts?: number;
  readonly amps?: number;
  readonly poles?: number;
  readonly tons?: number;
  /** Decimal text, as it was written. */
  readonly pounds?: string;
  readonly refrigerant?: string;
}
