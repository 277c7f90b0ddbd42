import jsqr from 'jsqr';
import { expect, it } from 'vitest';
import { otpauthUri } from '../../src/sign-in/otpauth-uri.ts';
import { qrPicture } from '../../src/sign-in-pages/qr-picture.ts';

const PIXELS = 4;

it('the picture of a secret is read by a reader of others as the address that the link has', () => {
  const uri = otpauthUri({
    secret: new TextEncoder().encode('12345678901234567890'),
    issuer: 'Sparrowgate Heating & Air, of the upper and the lower county',
    account: 'odalys.fernsby+owner@sparrowgate.example.com',
  });
  const picture = qrPicture(uri, 'Picture to scan').toString();
  const size = Number(/viewBox="0 0 (\d+) /.exec(picture)?.[1]);
  const dark = new Set(
    [...picture.matchAll(/M(\d+) (\d+)h1v1h-1z/g)].map(([, x, y]) => `${x} ${y}`),
  );
  const side = size * PIXELS;
  const pixels = Array.from({ length: side * side }, (_, at) => {
    const [x, y] = [at % side, Math.floor(at / side)].map((each) => Math.floor(each / PIXELS));
    const tone = dark.has(`${x} ${y}`) ? 0 : 255;
    return [tone, tone, tone, 255];
  });
  const read = jsqr.default(new Uint8ClampedArray(pixels.flat()), side, side);
  expect(read?.data).toBe(uri);
});
