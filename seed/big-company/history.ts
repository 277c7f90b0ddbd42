import type { Scenario } from './scenarios.ts';

/** One thing that was mended, as far as it bears on later calls. */
export interface Mended {
  fault: string;
  scenario: Scenario;
  /** When somebody came to the trip at which it was done. */
  arrivedAt: Date;
  /** Local day. */
  laborWarrantyUntil: string;
  /** Whether the parts that were sold for it went in too. */
  partsWentIn: boolean;
}

/** What was mended at each system lately. */
export interface History {
  remember(systemId: string, mended: Mended): void;
  of(systemId: string): readonly Mended[];
  /** Forgets what nobody asks for any more. */
  forgetBefore(instant: Date): void;
}

export function newHistory(): History {
  const bySystem = new Map<string, Mended[]>();
  return {
    remember: (systemId, mended) => {
      const known = bySystem.get(systemId);
      if (known === undefined) bySystem.set(systemId, [mended]);
      else known.push(mended);
    },
    of: (systemId) => bySystem.get(systemId) ?? [],
    forgetBefore: (instant) => {
      for (const [systemId, known] of bySystem) {
        const kept = known.filter(({ arrivedAt }) => arrivedAt >= instant);
        if (kept.length === 0) bySystem.delete(systemId);
        else if (kept.length < known.length) bySystem.set(systemId, kept);
      }
    },
  };
}

/** The faults by which our own work came back to somebody who arrives then, on that local day. */
export function recalledFaults(
  known: readonly Mended[],
  { arrivedAt, day }: { arrivedAt: Date; day: string },
): ReadonlySet<string> {
  const back = known.filter(
    (mended) => mended.arrivedAt < arrivedAt && day <= mended.laborWarrantyUntil,
  );
  return new Set(back.map(({ fault }) => fault));
}

/** Whether a visit finds what was mended lately, or what the same part mended. */
export function comesAgain(known: readonly Mended[], { findings }: Scenario): boolean {
  return findings.some(({ fault }) => known.some((mended) => sharePart(mended.fault, fault)));
}

/** Whether all that comes again is the same as before, within the warranty on our own work. */
export function isRecall(
  known: readonly Mended[],
  { findings }: Scenario,
  when: { arrivedAt: Date; day: string },
): boolean {
  const back = recalledFaults(known, when);
  return findings.every(({ fault }) => {
    const before = known.filter((mended) => sharePart(mended.fault, fault));
    const isSame = before.every((mended) => mended.fault === fault);
    return before.length === 0 || (isSame && back.has(fault));
  });
}

/** One capacitor serves compressor and fan in most outdoor units. */
function sharePart(a: string, b: string): boolean {
  const isCapacitor = (fault: string) => fault.startsWith('run_capacitor_');
  return a === b || (isCapacitor(a) && isCapacitor(b));
}
