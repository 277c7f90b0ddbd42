import type { PaperCompany } from '../paper-parts.ts';
import type { Plot } from '../plots/plot.ts';

/**
 * What the owner prints for the owner's own desk: sections of texts, tables and plots. Everything in
 * it arrives decided and in words; it is no paper of a customer, so nothing signs it.
 */
export interface Report {
  readonly company: PaperCompany;
  readonly title: string;
  /** Below the title: the period, the day it was made. */
  readonly facts: readonly string[];
  /** What matters most, in a few sentences. */
  readonly lead: string;
  /** Below the lead, side by side: the good beside what asks for a look. */
  readonly glance?: readonly [GlanceColumn, GlanceColumn];
  readonly sections: readonly ReportSection[];
  /** RFC 3339. */
  readonly createdAt: string;
}

export interface GlanceColumn {
  readonly heading: string;
  readonly rows: readonly { readonly label: string; readonly figure: string }[];
}

export interface ReportSection {
  readonly heading: string;
  readonly texts: readonly string[];
  readonly plot?: Plot;
  /** Below the plot; of a plot that is not shown otherwise, its own. */
  readonly table?: ReportTable;
}

export interface ReportTable {
  /** The first column is set to the left and takes the room that the others leave. */
  readonly columns: readonly [string, ...string[]];
  readonly rows: readonly ReportRow[];
}

export interface ReportRow {
  readonly name: string;
  /** What else is to be said of it, printed small beneath. */
  readonly detail?: string;
  /** One text for each column after the first. */
  readonly cells: readonly string[];
}
