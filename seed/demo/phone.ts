import type { Answer, ApiClient } from './api-client.ts';

/** What an invented caller answers, by question. */
export type Said = Readonly<Record<string, string | number | readonly string[]>>;

/** Nothing dangerous, nobody at risk, and a thermostat that somebody had set to OFF. */
export const thermostatWasOff: Said = {
  gas_smell: 'no',
  carbon_monoxide: 'no',
  fire_or_electrical: 'no',
  water_on_electrics: 'no',
  heat_distress: 'no',
  hissing: 'no',
  vulnerable: 'none',
  indoor_temperature: 84,
  indoor_humidity: 55,
  at_home: 'yes',
  water_seen: 'none',
  ice: 'no',
  air: 'none',
  thermostat_screen: 'on',
  thermostat_settings: 'no',
  set_to_cool: 'yes',
};

/** Gas, at the first question: nothing else is asked. */
export const smellsGas: Said = { gas_smell: 'yes' };

/** No danger, but somebody who must not wait in the heat; then the caller has to see to her. */
export const frailAtHome: Said = {
  ...thermostatWasOff,
  vulnerable: ['older_adult', 'oxygen_or_device'],
};

/**
 * Goes through the phone checks as a dispatcher does: reads each question aloud and notes the answer.
 * @param last the question after which the caller has no more time, where there is one
 * @returns the phone checks as the last answer left them, and how many questions were asked
 */
export async function askByPhone(
  dispatcher: ApiClient,
  ticketId: string,
  said: Said,
  last?: string,
): Promise<{ checks: Answer; asked: number }> {
  const path = `/v1/tickets/${ticketId}/phone-checks`;
  let checks = await dispatcher.post(path);
  let asked = 0;
  while (checks.body.next.kind === 'ask') {
    const { code } = checks.body.next.question;
    const answer = said[code];
    if (answer === undefined) throw new Error(`nobody said what to answer to ${code}`);
    const body = { questionCode: code, ...asBody(answer) };
    checks = await dispatcher.post(`${path}/answers`, body, checks.tag);
    asked += 1;
    if (code === last) break;
  }
  return { checks, asked };
}

function asBody(answer: Said[string]) {
  if (typeof answer === 'number') return { value: answer };
  return typeof answer === 'string' ? { answer } : { answers: answer };
}
