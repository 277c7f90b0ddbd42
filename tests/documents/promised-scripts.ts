/** A script that papers promise to print, told apart from what the code under test says of itself. */
export interface PromisedScript {
  script: string;
  /** Its letters, signs and marks, as Unicode has them; `but` are those that are not promised. */
  letters: RegExp;
  but?: RegExp;
  /** Invented names. */
  names: readonly string[];
}

/**
 * The promise of the papers, with what is left out of it by name: letters of old manuscripts, those
 * that Unicode added in its 17th version, and presentation forms, which nobody types.
 */
export const promisedScripts: readonly PromisedScript[] = [
  { script: 'Hebrew', letters: /\p{Script=Hebrew}/u, names: ['דוד לוי', 'שׂרה כהן־לב', 'דָּוִד'] },
  {
    script: 'Arabic',
    letters: /[\u0600-\u06ff\u0750-\u077f\u08a0-\u08c7]/u,
    but: /[\u0600-\u0605\u06dd]/u,
    names: ['محمد الحداد', 'فاطمة لالا', 'پروین چاووشی', 'ڈاکٹر بیگ', 'مُحَمَّد'],
  },
  {
    script: 'Devanagari',
    letters: /\p{Script=Devanagari}/u,
    names: ['प्रिया शर्मा', 'क्षत्रिय विष्णु', 'कीर्ति ऋषि'],
  },
  { script: 'Bengali', letters: /\p{Script=Bengali}/u, names: ['প্রিয়াঙ্কা চক্রবর্তী', 'শ্রীমতি'] },
  { script: 'Gurmukhi', letters: /\p{Script=Gurmukhi}/u, names: ['ਹਰਪ੍ਰੀਤ ਸਿੰਘ'] },
  { script: 'Gujarati', letters: /\p{Script=Gujarati}/u, names: ['પ્રિયા પટેલ'] },
  { script: 'Oriya', letters: /\p{Script=Oriya}/u, names: ['ପ୍ରିୟା ଦାସ'] },
  {
    script: 'Tamil',
    letters: /\p{Script=Tamil}/u,
    but: /[\u{11fc0}-\u{11fff}]/u,
    names: ['செல்வி ராமன்', 'ஸ்ரீ கொண்டு'],
  },
  { script: 'Telugu', letters: /\p{Script=Telugu}/u, but: /\u0c5c/, names: ['ప్రియాంక రెడ్డి'] },
  { script: 'Kannada', letters: /\p{Script=Kannada}/u, but: /\u0cdc/, names: ['ಶ್ರೀನಿವಾಸ್ ಪ್ರಸಾದ್'] },
  { script: 'Malayalam', letters: /\p{Script=Malayalam}/u, names: ['ശ്രീജിത്ത് നായർ'] },
  {
    script: 'Sinhala',
    letters: /\p{Script=Sinhala}/u,
    but: /[\u{111e1}-\u{111f4}]/u,
    names: ['නිමල් පෙරේරා', 'ශ්\u200dරී'],
  },
  { script: 'Thai', letters: /\p{Script=Thai}/u, names: ['สมชาย น้ำใจดี'] },
  { script: 'Lao', letters: /\p{Script=Lao}/u, names: ['ສົມໃຈ'] },
  {
    script: 'Myanmar',
    letters: /\p{Script=Myanmar}/u,
    but: /[\u{116d0}-\u{116e3}]/u,
    names: ['အောင်ဆန်း', 'မြန်မာ ကျော်'],
  },
  { script: 'Khmer', letters: /\p{Script=Khmer}/u, names: ['សុខ ស្រីមុំ'] },
  { script: 'Armenian', letters: /\p{Script=Armenian}/u, names: ['Արմեն Պետրոսյան'] },
  { script: 'Georgian', letters: /\p{Script=Georgian}/u, names: ['გიორგი ბერიძე'] },
  { script: 'Ethiopic', letters: /\p{Script=Ethiopic}/u, names: ['አበበ በቂላ'] },
  { script: 'Hiragana', letters: /[\u3041-\u3096\u309d\u309e]/, names: ['さくら', 'がぎぐ'] },
  { script: 'Katakana', letters: /[\u30a1-\u30fa\u30fc-\u30fe]/, names: ['トーマス・リー'] },
  { script: 'Hangul', letters: /[\u3131-\u318e\uac00-\ud7a3]/, names: ['김 민수', '뷁'] },
  { script: 'Bopomofo', letters: /[\u3105-\u312f]/, names: ['ㄅㄆㄇ'] },
];

/** Whether papers promise to print a character, and never a box for it. */
export function isPromised(character: string): boolean {
  hanPromised ??= new Set([...hanLetters()].filter((letter) => !hanUnpromised.includes(letter)));
  if (hanPromised.has(character)) return true;
  return promisedScripts.some(
    ({ letters, but }) => letters.test(character) && but?.test(character) !== true,
  );
}

let hanPromised: Set<string> | undefined;

/** The letters of a promised script, each on its own and in composed form. */
export function lettersOf({ letters, but }: PromisedScript): string[] {
  const found: string[] = [];
  for (let codePoint = 0x100; codePoint < LAST_LETTER; codePoint += 1) {
    const letter = String.fromCodePoint(codePoint);
    if (letters.test(letter) && !but?.test(letter) && letter.normalize('NFC') === letter) {
      found.push(letter);
    }
  }
  return found;
}

const LAST_LETTER = 0x1_20_00;

/**
 * The letters of Chinese that are promised: those of the usual sets of four countries, read from
 * Node's own tables of them (WHATWG Encoding Standard): GB 2312 (6,763), the first level of Big5
 * (5,401), JIS X 0208 (6,355) and KS X 1001 (4,888).
 */
export function hanLetters(): Set<string> {
  return new Set([
    ...decoded('gbk', [0xb0, 0xf7], 0xa1),
    ...decoded('big5', [0xa4, 0xc6], 0x40),
    ...decoded('euc-jp', [0xb0, 0xf4], 0xa1),
    ...decoded('euc-kr', [0xca, 0xfd], 0xa1),
  ]);
}

/** In these the typefaces fall short of the sets: twenty-nine letters that names hardly hold. */
export const hanUnpromised = '劐坶塥蒈猸弪骣轷戤赇犋毪脶膪铴镩稆耢耥蟓鲰杗姅詨跦穋歜觼鑤';

export const hanNames = ['李 小龍', '山田 太郎さん', '王喆堃', '陳珺璟', '黃國榮（臺北）'];

function decoded(encoding: string, [first, last]: [number, number], from: number): string[] {
  const letters: string[] = [];
  for (let lead = first; lead <= last; lead += 1) {
    for (let trail = from; trail <= 0xfe; trail += 1) {
      const letter = decodedOne(encoding, Uint8Array.of(lead, trail));
      if (/^\p{Script=Han}$/u.test(letter)) letters.push(letter.normalize('NFC'));
    }
  }
  return letters;
}

/** @returns an empty text where the set has no letter */
function decodedOne(encoding: string, bytes: Uint8Array): string {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    return '';
  }
}
