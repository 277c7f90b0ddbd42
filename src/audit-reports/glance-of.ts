import { formatCents, type GlanceColumn } from '../documents/index.ts';
import type { AuditReport } from './contract.ts';
import { countText } from './count-text.ts';
import { shareText } from './share-text.ts';

/** The figures of the first page: what is done well, and beside it what is to be put right. */
export function glanceOf(report: AuditReport): readonly [GlanceColumn, GlanceColumn] {
  return [
    { heading: 'Done well', rows: doneWell(report) },
    { heading: 'To put right', rows: toPutRight(report) },
  ];
}

function doneWell({ shares, prices }: AuditReport): GlanceColumn['rows'] {
  const shareOf = (measure: string) => {
    const found = shares.find((each) => each.measure === measure);
    return figureOf(found?.count ?? 0, found?.trials ?? 0);
  };
  return [
    { label: 'Solved by phone', figure: shareOf('solved_by_phone') },
    { label: 'Cause behind a reset found', figure: shareOf('cause_found') },
    { label: 'Cured by the first repair', figure: shareOf('cured_first_time') },
    { label: 'All that was billed proven', figure: shareOf('proven') },
    { label: 'Readings taken after the work', figure: shareOf('read_after_work') },
    fairPrice(prices),
  ];
}

/** Where nobody can tell, and where money went back since, there was no fair price to count. */
function fairPrice({ jobs, above, putRight, notJudged }: AuditReport['prices']) {
  const judged = jobs - notJudged;
  const apart = notJudged === 0 ? '' : ` (${countText(notJudged, 'job')} not judged)`;
  return {
    label: `At a fair price${apart}`,
    figure: figureOf(judged - above - putRight, judged),
  };
}

function toPutRight({ rules, openCents, toLookAt }: AuditReport): GlanceColumn['rows'] {
  const sum = (of: (rule: AuditReport['rules'][number]) => number) =>
    rules.reduce((all, rule) => all + of(rule), 0);
  return [
    { label: 'To give back', figure: formatCents(openCents) },
    { label: 'Jobs to open', figure: toLookAt.jobs.toLocaleString('en-US') },
    {
      label: 'Flags that wait for an answer',
      figure: sum(({ open }) => open).toLocaleString('en-US'),
    },
    {
      label: 'Given back already',
      figure: formatCents(sum(({ givenBackCents }) => givenBackCents)),
    },
    {
      label: 'Set aside after a look',
      figure: sum(({ dismissed }) => dismissed).toLocaleString('en-US'),
    },
  ];
}

function figureOf(count: number, trials: number): string {
  return trials === 0 ? 'no such job' : shareText(count, trials);
}
