import type { Line } from '../priced-quote.ts';
import type { PricingInputs, WorkItem } from '../pricing-inputs.ts';

/** What a line is explained from: its neighbors, the inputs of its price, and the names of tasks. */
export interface SpanishContext {
  /** Of the same option, or of a no. */
  readonly lines: readonly Line[];
  /** Of the same option; none of a no. */
  readonly work: readonly WorkItem[];
  readonly inputs: PricingInputs;
  readonly laborRateCents: number;
  /** What a task is called in Spanish; an earlier document has kept no more than its name. */
  readonly taskName: (task: { readonly code?: string; readonly name: string }) => string;
}
