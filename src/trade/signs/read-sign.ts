import type { Facts } from '../facts/admit-evidence.ts';
import type { SignCode } from '../words/signs.ts';
import { airSignReaders } from './air.ts';
import { compressorSignReaders } from './compressor.ts';
import { controlSignReaders } from './control.ts';
import { fansSignReaders } from './fans.ts';
import { heatPumpSignReaders } from './heat-pump.ts';
import { motorsSignReaders } from './motors.ts';
import { powerSignReaders } from './power.ts';
import { refrigerantSignReaders } from './refrigerant.ts';
import type { SignReader } from './sign-reader.ts';

const readers: { readonly [Code in SignCode]?: SignReader<Code> } = {
  ...powerSignReaders,
  ...controlSignReaders,
  ...motorsSignReaders,
  ...compressorSignReaders,
  ...fansSignReaders,
  ...airSignReaders,
  ...refrigerantSignReaders,
  ...heatPumpSignReaders,
};

/** The class of a sign that these facts show; undefined while it cannot be told. */
export function readSign(code: SignCode, facts: Facts): string | undefined {
  return readers[code]?.(facts);
}
