import type { TextStyle } from './page-plan.ts';

/** US Letter, with room enough at the edges for a punch, a thumb and a cheap printer. */
export const PAGE = {
  widthPt: 612,
  heightPt: 792,
  leftPt: 60,
  topPt: 50,
  contentWidthPt: 492,
  /** The lowest point of content; the footer lies below it. */
  contentBottomPt: 736,
  footerTopPt: 744,
} as const;

/**
 * One accent, a deep teal, and greys. All text colors keep at least 4.5:1 against white and against
 * the tint (WCAG 2.2, 1.4.3), and nothing is told by color alone: papers are printed in grey.
 */
export const COLOR = {
  ink: '#1d2528',
  soft: '#566166',
  accent: '#0b5a66',
  band: '#b4d6d8',
  tint: '#eff5f5',
  hairline: '#cfd8da',
  track: '#e3e9ea',
  white: '#ffffff',
} as const;

export const TYPE = {
  letterhead: { face: 'semibold', sizePt: 15, lineHeightPt: 19, color: COLOR.accent },
  title: { face: 'semibold', sizePt: 25, lineHeightPt: 30, color: COLOR.ink },
  heading: { face: 'semibold', sizePt: 14.5, lineHeightPt: 19, color: COLOR.accent },
  subheading: { face: 'semibold', sizePt: 11.5, lineHeightPt: 15.5, color: COLOR.ink },
  lead: { face: 'regular', sizePt: 12.5, lineHeightPt: 17.5, color: COLOR.ink },
  body: { face: 'regular', sizePt: 10, lineHeightPt: 14, color: COLOR.ink },
  strong: { face: 'semibold', sizePt: 10, lineHeightPt: 14, color: COLOR.ink },
  small: { face: 'regular', sizePt: 8.75, lineHeightPt: 12, color: COLOR.soft },
  label: { face: 'semibold', sizePt: 8.75, lineHeightPt: 12, color: COLOR.soft },
  tick: { face: 'regular', sizePt: 7.5, lineHeightPt: 9, color: COLOR.soft },
  price: { face: 'semibold', sizePt: 14, lineHeightPt: 19, color: COLOR.ink },
  total: { face: 'semibold', sizePt: 13, lineHeightPt: 18, color: COLOR.accent },
} as const satisfies Record<string, TextStyle>;
