import { type FaultCode, faultCatalog, type RemedyClass, type TaskCode } from '../trade/index.ts';

/** Which faults a task mends, and what it does to each: only the catalog knows. */
export function remediesOf(task: TaskCode): { fault: FaultCode; remedyClass: RemedyClass }[] {
  return faultCatalog.flatMap(({ code, remedies }) =>
    remedies
      .filter((remedy) => remedy.task === task)
      .map(({ remedyClass }) => ({ fault: code, remedyClass })),
  );
}
