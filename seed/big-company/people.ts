import type { Random } from './random.ts';

/*
 * Invented people and streets, put together by chance. The phone numbers are from the range kept
 * for fiction (555-01xx) and the addresses end in example.com.
 */

export function inventName(random: Random): string {
  return `${random.pick(GIVEN)} ${random.pick(FAMILY_HEAD)}${random.pick(FAMILY_TAIL)}`;
}

export function inventPhone(random: Random): string {
  return `(${random.int(200, 989)}) 555-01${String(random.int(0, 99)).padStart(2, '0')}`;
}

export function inventEmail(name: string, random: Random): string {
  return `${name.toLowerCase().replaceAll(' ', '.')}.${random.int(1, 9_999)}@example.com`;
}

export function inventStreet(random: Random): string {
  return `${random.int(1, 9_899)} ${random.pick(STREET)} ${random.pick(STREET_KIND)}`;
}

export function inventManager(random: Random): string {
  return `${random.pick(FAMILY_HEAD)}${random.pick(FAMILY_TAIL)} Property Care`;
}

const GIVEN = [
  'Abernathy',
  'Bellamy',
  'Calliope',
  'Dorothea',
  'Ephraim',
  'Fenella',
  'Gideon',
  'Hesper',
  'Ignatius',
  'Jocasta',
  'Kestrel',
  'Leocadia',
  'Marguerite',
  'Nathaniel',
  'Ottoline',
  'Peregrine',
  'Quillon',
  'Rosalind',
  'Septimus',
  'Tabitha',
  'Ulysses',
  'Verity',
  'Winifred',
  'Xanthe',
  'Yolanda',
  'Zebediah',
  'Álvaro',
  'Zoë',
  'Anaïs',
  'Søren',
] as const;
const FAMILY_HEAD = [
  'Ash',
  'Birch',
  'Cinder',
  'Dapple',
  'Elder',
  'Fern',
  'Gorse',
  'Hazel',
  'Ivy',
  'Juniper',
  'Kettle',
  'Linden',
  'Marl',
  'Nettle',
  'Oaken',
  'Pebble',
  'Quince',
  'Rowan',
  'Sorrel',
  'Thistle',
  'Umber',
  'Vetch',
  'Willow',
  'Yarrow',
] as const;
const FAMILY_TAIL = [
  'bourne',
  'brook',
  'croft',
  'dale',
  'field',
  'gate',
  'hollow',
  'ley',
  'march',
  'mere',
  'moor',
  'ridge',
  'shaw',
  'stead',
  'thorpe',
  'wick',
] as const;
const STREET = [
  'Applejack',
  'Bobolink',
  'Cattail',
  'Dragonfly',
  'Evenfall',
  'Foxglove',
  'Goldfinch',
  'Harebell',
  'Inkberry',
  'Jackdaw',
  'Kingfisher',
  'Larkspur',
  'Millrace',
  'Nutmeg',
  'Owlet',
  'Periwinkle',
  'Quicksilver',
  'Redwing',
  'Sandpiper',
  'Teasel',
  'Underwood',
  'Vesper',
  'Whippoorwill',
  'Yellowbird',
] as const;
const STREET_KIND = ['Lane', 'Court', 'Street', 'Road', 'Way', 'Terrace'] as const;

/** Invented towns around the depot of `company.ts`: each with its middle. */
export const cities = [
  {
    city: 'Wrenfield',
    postalCode: '00000',
    jurisdiction: 'quill_county',
    altitudeFt: 640,
    middle: { latitudeDeg: 41, longitudeDeg: -97 },
  },
  {
    city: 'Sparrow Ford',
    postalCode: '00001',
    jurisdiction: 'quill_county',
    altitudeFt: 710,
    middle: { latitudeDeg: 41.06, longitudeDeg: -96.9 },
  },
  {
    city: 'Lower Heron',
    postalCode: '00002',
    jurisdiction: 'quill_county',
    altitudeFt: 580,
    middle: { latitudeDeg: 40.93, longitudeDeg: -97.06 },
  },
  {
    city: 'Plover Bend',
    postalCode: '00003',
    jurisdiction: 'plover_bend',
    altitudeFt: 4_180,
    middle: { latitudeDeg: 41.09, longitudeDeg: -97.12 },
  },
] as const;
