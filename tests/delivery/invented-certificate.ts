import { createSign, generateKeyPairSync, type KeyObject } from 'node:crypto';

/** A key and a certificate that says whose it is, both in PEM. */
export interface InventedCertificate {
  key: string;
  cert: string;
}

/**
 * A certificate that nobody but its own holder vouches for (RFC 5280), for servers of tests: made
 * anew each time, so that no key lies about.
 */
export function inventedCertificate({
  name = 'localhost',
  validFrom = '200101000000Z',
  validTo = '491231235959Z',
} = {}): InventedCertificate {
  const { privateKey, publicKey } = generateKeyPairSync('ec', { namedCurve: 'prime256v1' });
  const distinguished = sequence(set(sequence(COMMON_NAME, utf8(name))));
  const toBeSigned = sequence(
    explicit(0, integer([2])),
    integer([1]),
    sequence(ECDSA_WITH_SHA256),
    distinguished,
    sequence(utcTime(validFrom), utcTime(validTo)),
    distinguished,
    publicKey.export({ format: 'der', type: 'spki' }),
    explicit(
      3,
      sequence(
        sequence(SUBJECT_ALTERNATIVE_NAME, octets(sequence(field(0x82, Buffer.from(name))))),
        // It vouches for itself, so it may.
        sequence(BASIC_CONSTRAINTS, octets(sequence(field(0x01, Buffer.from([0xff]))))),
      ),
    ),
  );
  const whole = sequence(
    toBeSigned,
    sequence(ECDSA_WITH_SHA256),
    field(0x03, Buffer.concat([Buffer.from([0]), signed(toBeSigned, privateKey)])),
  );
  return {
    key: privateKey.export({ format: 'pem', type: 'pkcs8' }).toString(),
    cert: pem(whole),
  };
}

// ITU-T X.690: a byte that says what it is, its length, and what is in it.
function field(kind: number, content: Buffer): Buffer {
  const { length } = content;
  const lengthBytes =
    length < 0x80 ? [length] : length < 0x100 ? [0x81, length] : [0x82, length >> 8, length & 0xff];
  return Buffer.concat([Buffer.from([kind, ...lengthBytes]), content]);
}

const sequence = (...parts: Buffer[]) => field(0x30, Buffer.concat(parts));
const set = (...parts: Buffer[]) => field(0x31, Buffer.concat(parts));
const octets = (part: Buffer) => field(0x04, part);
const utf8 = (text: string) => field(0x0c, Buffer.from(text));
const utcTime = (text: string) => field(0x17, Buffer.from(text));
const integer = (bytes: number[]) => field(0x02, Buffer.from(bytes));
const explicit = (number: number, part: Buffer) => field(0xa0 + number, part);
const named = (...bytes: number[]) => field(0x06, Buffer.from(bytes));

const COMMON_NAME = named(0x55, 0x04, 0x03);
const SUBJECT_ALTERNATIVE_NAME = named(0x55, 0x1d, 0x11);
const BASIC_CONSTRAINTS = named(0x55, 0x1d, 0x13);
/** 1.2.840.10045.4.3.2 (RFC 5758, 3.2). */
const ECDSA_WITH_SHA256 = named(0x2a, 0x86, 0x48, 0xce, 0x3d, 0x04, 0x03, 0x02);

function signed(bytes: Buffer, key: KeyObject): Buffer {
  return createSign('sha256').update(bytes).sign(key);
}

function pem(der: Buffer): string {
  const lines = der.toString('base64').match(/.{1,64}/g) ?? [];
  return ['-----BEGIN CERTIFICATE-----', ...lines, '-----END CERTIFICATE-----', ''].join('\n');
}
