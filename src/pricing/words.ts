import type { ChargeClass, GoodsUnit, TaxClass } from './price-book.ts';

/** 11325 -> '$113.25', 123456789 -> '$1,234,567.89', -1510 -> '-$15.10'. */
export function dollarsText(amountCents: number): string {
  const positive = Math.abs(amountCents);
  const fraction = positive % 100;
  const whole = groupThousands(String((positive - fraction) / 100));
  return `${amountCents < 0 ? '-' : ''}$${whole}.${fraction < 10 ? '0' : ''}${fraction}`;
}

/** '0.0825' -> '8.25%', '0.20' -> '20%', '1' -> '100%'. */
export function percentText(share: string): string {
  const [whole = '0', fraction = ''] = share.split('.');
  const padded = fraction.padEnd(2, '0');
  const digits = `${whole}${padded.slice(0, 2)}`.replace(/^0+(?=\d)/, '');
  const rest = padded.slice(2).replace(/0+$/, '');
  return `${digits}${rest === '' ? '' : `.${rest}`}%`;
}

/** 1 -> '1 minute', 45 -> '45 minutes'. */
export function minutesText(minutes: number): string {
  return minutes === 1 ? '1 minute' : `${minutes} minutes`;
}

/** 'condenser_electrical' -> 'condenser electrical'. */
export function codeText(code: string): string {
  return code.replaceAll('_', ' ');
}

/** ('2.5', '[lb_av]') -> '2.5 lb'. */
export function measuredText(quantity: string, unit: GoodsUnit): string {
  return `${quantity} ${goodsUnitWords[unit]}`;
}

/** Units of measured goods as people write them. */
export const goodsUnitWords: Record<GoodsUnit, string> = {
  '[lb_av]': 'lb',
  '[oz_av]': 'oz',
  '[ft_i]': 'ft',
  '[in_i]': 'in',
  '[gal_us]': 'gal',
};

export const chargeClassWords: Record<ChargeClass, string> = {
  visit_fee: 'visit fee',
  part: 'parts',
  labor: 'labor',
  access: 'access',
};

export const taxClassWords: Record<TaxClass, string> = {
  visit_fee: 'visit fee',
  part: 'parts',
  material: 'materials',
  equipment: 'equipment',
  labor: 'labor',
  access: 'access',
};

/** '1234567' -> '1,234,567'. */
export function groupThousands(digits: string): string {
  if (digits.length <= 3) return digits;
  return `${groupThousands(digits.slice(0, -3))},${digits.slice(-3)}`;
}
