import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import type { DayWeather } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newWeatherSchema } from './contract.ts';

/** Notes how hot a day is, or is to become; said again, the later word counts. */
export async function recordWeather(
  act: ActContext,
  day: string,
  told: z.output<typeof newWeatherSchema>,
): Promise<DayWeather> {
  const weather = {
    highDegF: told.highDegF,
    relativeHumidityPercent: told.relativeHumidityPercent ?? null,
  };
  const kept = await act.tx.dayWeather.upsert({
    where: { day: dateOfDay(day) },
    create: { day: dateOfDay(day), ...weather },
    update: { ...weather, version: { increment: 1 } },
  });
  await appendJournal(act, {
    event: 'weather.noted',
    subject: { kind: 'day', id: day },
    after: weather,
  });
  return kept;
}
