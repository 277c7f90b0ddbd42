/**
 * Names what turns papers into bytes, and is kept beside each stored paper. It is raised whenever
 * the same paper would come out as other bytes: a changed layout or wording, another pdfkit or
 * typeface.
 */
export const paperRenderer = 'evenhand-paper-9';
