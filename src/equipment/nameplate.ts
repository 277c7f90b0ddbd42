import type { Equipment } from '../platform/database/generated/client.ts';
import { type Nameplate, nameplateSchema } from '../trade/index.ts';

const fields = nameplateSchema.keyof().options;
type PlateColumns = Pick<Equipment, (typeof fields)[number]>;

/** The nameplate of a stored machine; what is unknown is absent. */
export function nameplateOf(equipment: PlateColumns): Nameplate {
  const known = fields
    .map((field) => [field, equipment[field]] as const)
    .filter(([, value]) => value !== null);
  return nameplateSchema.parse(Object.fromEntries(known));
}

/** All nameplate columns of a machine: what the plate does not say becomes null. */
export function nameplateColumns(nameplate: Nameplate): PlateColumns {
  return Object.fromEntries(
    fields.map((field) => [field, nameplate[field] ?? null]),
  ) as unknown as PlateColumns;
}
