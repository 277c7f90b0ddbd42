import { certificateRefusal, section608TypeSchema } from '../trade/index.ts';

/**
 * Whether somebody may attach gauges at homes, where every machine is split or packaged.
 * @param epa608Type as it is on record; null for none
 */
export function mayHandleRefrigerant(epa608Type: string | null): boolean {
  const held = section608TypeSchema.nullable().catch(null).parse(epa608Type);
  const certificates = held === null ? [] : [held];
  return certificateRefusal(certificates, { kind: 'split_or_packaged' }) === undefined;
}
