import { nameplateColumns } from '../../src/equipment/index.ts';
import type { ComfortSystem, Equipment } from '../../src/platform/database/generated/client.ts';
import type { Agreement } from '../../src/pricing/index.ts';
import type { EquipmentKind, Nameplate } from '../../src/trade/index.ts';
import { type MakeId, makeIds } from './make-ids.ts';
import {
  cities,
  inventEmail,
  inventManager,
  inventName,
  inventPhone,
  inventStreet,
} from './people.ts';
import { inventIndoor, inventOutdoor, type Plate } from './plates.ts';
import { type Random, randomFor } from './random.ts';

export interface Person {
  id: string;
  name: string;
  phone: string;
  email: string | null;
  journalSalt: Uint8Array;
}

/** A machine as it is stored, with its system, its kind and its nameplate as the trade core reads them. */
export interface Machine {
  row: Equipment & { system: ComfortSystem };
  kind: EquipmentKind;
  nameplate: Nameplate;
}

/** A maintenance agreement of a place, and the local days between which it holds. */
export interface PlaceAgreement {
  id: string;
  plan: Agreement;
  startsOn: string;
  /** The first day it no longer holds. */
  endsOn: string;
}

/** A site with its people, systems and machines. */
export interface Place {
  id: string;
  createdAt: Date;
  street: string;
  unit: string | null;
  city: string;
  postalCode: string;
  jurisdiction: string;
  accessNotes: string | null;
  altitudeFt: number;
  latitudeDeg: number;
  longitudeDeg: number;
  occupant: Person;
  /** Whoever says yes and pays; the occupant for most. */
  approver: Person;
  systems: { row: ComfortSystem; outdoor: Machine; indoor: Machine }[];
  agreement?: PlaceAgreement;
}

/**
 * The place of a number: always the same for the same seed, so that a ticket of a later year finds
 * it without anything having been kept.
 * @param createdAt when its first caller rang up
 */
export function placeAt(seed: number, index: number, createdAt: Date): Place {
  const random = randomFor(seed, 'place', index);
  const makeId = makeIds(random);
  const occupant = inventPerson(random, makeId, createdAt);
  const isRented = random.chance(0.08);
  const approver: Person = isRented
    ? { ...inventPerson(random, makeId, createdAt), name: inventManager(random) }
    : occupant;
  const { city, postalCode, jurisdiction, altitudeFt, middle } = random.pick(cities);
  // A chance of its own, so that every other draw of a place is what it was before.
  const onMap = randomFor(seed, 'map', index);
  const systemNames = random.chance(0.25) ? ['Main floor', 'Upstairs'] : ['Main floor'];
  const id = makeId(createdAt);
  return {
    id,
    createdAt,
    street: inventStreet(random),
    unit: random.chance(0.1) ? `Unit ${random.int(1, 48)}` : null,
    city,
    postalCode,
    jurisdiction,
    accessNotes: random.chance(0.2) ? random.pick(ACCESS_NOTES) : null,
    altitudeFt,
    latitudeDeg: near(middle.latitudeDeg, onMap),
    longitudeDeg: near(middle.longitudeDeg, onMap),
    occupant,
    approver,
    systems: systemNames.map((name) => inventSystem(id, name, random, makeId, createdAt)),
  };
}

/** Within some three miles, to about ten yards. */
function near(middleDeg: number, random: Random): number {
  return Number((middleDeg + random.between(-0.04, 0.04)).toFixed(4));
}

const ACCESS_NOTES = [
  'Gate sticks; lift it.',
  'Dog in the yard.',
  'Attic ladder in the hall.',
] as const;

function inventPerson(random: Random, makeId: MakeId, at: Date): Person {
  const name = inventName(random);
  return {
    id: makeId(at),
    name,
    phone: inventPhone(random),
    email: random.chance(0.6) ? inventEmail(name, random) : null,
    journalSalt: new Uint8Array(Uint32Array.from({ length: 4 }, () => random.bits()).buffer),
  };
}

function inventSystem(siteId: string, name: string, random: Random, makeId: MakeId, at: Date) {
  const row = { id: makeId(at), siteId, name, version: 1, createdAt: at };
  return {
    row,
    outdoor: inventMachine(inventOutdoor(random), row, random, makeId),
    indoor: inventMachine(inventIndoor(random), row, random, makeId),
  };
}

function inventMachine(
  { kind, model, nameplate }: Plate,
  system: ComfortSystem,
  random: Random,
  makeId: MakeId,
): Machine {
  const { createdAt } = system;
  const installedOn = dayBefore(createdAt, random.int(60, 6_500));
  const warrantyDays = random.pick([5, 10]) * 365;
  return {
    kind,
    nameplate,
    row: {
      ...nameplateColumns(nameplate),
      id: makeId(createdAt),
      systemId: system.id,
      system,
      kind,
      maker: null,
      model,
      serial: `0000-${String(random.int(0, 999_999)).padStart(6, '0')}`,
      installedOn,
      partsWarrantyUntil: dayBefore(installedOn, -warrantyDays),
      compressorWarrantyUntil: null,
      laborWarrantyUntil: null,
      version: 1,
      createdAt,
    },
  };
}

/** The day so many days before, as its midnight in UTC: how the client gives dates. */
function dayBefore(at: Date, days: number): Date {
  return new Date(Math.floor(at.getTime() / DAY_MS - days) * DAY_MS);
}

const DAY_MS = 86_400_000;
