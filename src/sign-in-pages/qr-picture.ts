import encodeQR from 'qr';
import { type Html, html } from '../platform/html/html.ts';

/** A text as a QR code (ISO/IEC 18004), dark on light in either scheme, or no camera reads it. */
export function qrPicture(text: string, label: string): Html {
  const rows = encodeQR(text, 'raw', { ecc: 'medium', border: QUIET_MODULES });
  const dark = rows.flatMap((row, down) =>
    row.flatMap((isDark, right) => (isDark ? [`M${right} ${down}h1v1h-1z`] : [])),
  );
  const size = rows.length;
  return html`<svg class="qr" viewBox="0 0 ${size} ${size}" role="img" aria-label="${label}" shape-rendering="crispEdges">
<rect class="qr-light" width="${size}" height="${size}"/><path class="qr-dark" d="${dark.join('')}"/>
</svg>`;
}

/** As the standard asks for on every side. */
const QUIET_MODULES = 4;
