import { localClockText, localDay, localMomentText } from '../company/index.ts';

/** Who is late where, and by what clock. */
export interface Lateness {
  company: { name: string; phone: string; timeZone: string };
  language: 'en' | 'es';
  /** Until when somebody was promised. */
  windowEnd: Date;
  expectedAt: Date;
}

/**
 * What to say to a household that waits longer than it was promised: by when somebody is expected
 * now, on the company's clock, and whom to call. Neither what is broken nor what anything costs.
 */
export function lateMessage({ company, language, windowEnd, expectedAt }: Lateness): string {
  const { name, phone, timeZone } = company;
  const about = inFives(expectedAt);
  const isSameDay = localDay(windowEnd, timeZone) === localDay(about, timeZone);
  const at = (isSameDay ? localClockText : localMomentText)(about, timeZone, language);
  const promised = localClockText(windowEnd, timeZone, language);
  return words[language]({ name, phone, at, promised });
}

const words: Record<
  Lateness['language'],
  (told: Record<'name' | 'phone' | 'at' | 'promised', string>) => string
> = {
  en: ({ name, phone, at, promised }) =>
    `${name}: we are running late and are sorry. We promised to be there by ${promised}; we now ` +
    `expect to be there about ${at}. If that does not suit you, call ${phone}.`,
  es: ({ name, phone, at, promised }) =>
    `${name}: vamos con retraso y lo sentimos. Prometimos llegar antes de las ${promised}; ahora ` +
    `esperamos llegar hacia las ${at}. Si no le conviene, llame al ${phone}.`,
};

/** Nobody knows it to the minute; rounded up, so that we are not late again. */
function inFives(instant: Date): Date {
  return new Date(Math.ceil(instant.getTime() / 300_000) * 300_000);
}
