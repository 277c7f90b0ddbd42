/**
 * A text that a Spanish paper froze about prices, in the words of today: what was once said
 * otherwise is put as it is said now, and anything else stays. Every figure stays, too.
 */
export function inWordsOfToday(frozen: string): string {
  return REWORDED.reduce((text, [former, now]) => text.replace(former, now), frozen);
}

/** Each fits one whole sentence of ours, or the kind that we put before the name of a part. */
const REWORDED: readonly (readonly [former: RegExp, now: string])[] = [
  [
    /^(Se acredita .*), mientras aceptar no cueste menos que decir que no: /,
    '$1, sin que aceptar cueste menos que rechazar: ',
  ],
  [/^Se acredita (?=\d)/, 'Se acredita el '],
  [/(^| )Nada aquí paga impuesto\.$/, '$1Nada de esto lleva impuesto.'],
  [/% de cada renglón con impuesto, cada uno /, '% de cada concepto gravado, cada uno '],
  [/^Una a \$/, '1 pieza a $'],
  [
    / Se cobra una sola vez para todo el trabajo\.$/,
    ' Se cobra una sola vez para todo el trabajo en este lugar.',
  ],
  [/^Bandeja de drenaje \(/, 'Charola de drenaje ('],
  [/^Pilas del termostato \(/, 'Baterías del termostato ('],
  [/^Válvula de inversión \(/, 'Válvula reversible ('],
  [/^Bobina de la válvula de inversión \(/, 'Bobina de la válvula reversible ('],
  [/^Tarjeta de descongelación \(/, 'Tarjeta de descongelamiento ('],
];
