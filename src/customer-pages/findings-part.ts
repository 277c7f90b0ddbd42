import {
  formatDecimal,
  formatUncertainty,
  type PaperFinding,
  type PaperMeasurement,
} from '../documents/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { gaugePicture } from './gauge-picture.ts';
import type { Words } from './words.ts';

/** Each finding in plain words, how sure it is, and every reading against its limit. */
export function findingsPart(
  findings: readonly PaperFinding[],
  words: Words,
  contentLanguage: string,
): HtmlValue {
  if (findings.length === 0) return undefined;
  const hasGauge = findings.some(({ measurements }) => measurements.some(hasLimit));
  return html`<section aria-labelledby="found">
<h2 id="found">${words.findings}</h2>
${hasGauge && html`<p class="small">${words.gaugeLegend}</p>`}
${findings.map((finding) => findingPart(finding, words, contentLanguage))}
</section>`;
}

function findingPart(finding: PaperFinding, words: Words, contentLanguage: string): Html {
  const { name, explanation, standing, measurements, observations, doubts, cautions } = finding;
  return html`<article class="finding">
<h3 lang="${contentLanguage}">${name}</h3>
<p class="standing standing-${standing}"><strong>${words.standing[standing]}.</strong> ${standingText(finding, words)}</p>
<p lang="${contentLanguage}">${explanation}</p>
${measurements.length > 0 && html`<ul class="readings">${measurements.map((each) => readingPart(each, words, contentLanguage))}</ul>`}
${bullets(words.observations, observations, contentLanguage)}
${bullets(words.doubts, doubts, contentLanguage)}
${bullets(words.beCareful, cautions, contentLanguage, 'careful')}
</article>`;
}

function standingText({ standing, speaksAgainst, offeredBecause }: PaperFinding, words: Words) {
  const meaning =
    speaksAgainst === undefined
      ? words.standingMeaning[standing]
      : words.speaksAgainst(speaksAgainst);
  return offeredBecause === undefined
    ? meaning
    : `${meaning} ${words.offeredBecause(offeredBecause)}`;
}

function readingPart(measurement: PaperMeasurement, words: Words, contentLanguage: string): Html {
  const { label, value, unit, decimals, uncertainty, verdict, limitText } = measurement;
  const spread = formatUncertainty(uncertainty, decimals);
  return html`<li class="reading">
<div class="reading-name">
<p class="reading-label" lang="${contentLanguage}">${label}</p>
<p class="small" lang="${contentLanguage}">${limitText}</p>
</div>
${hasLimit(measurement) && gaugePicture(measurement, words)}
<div class="reading-value">
<p><b>${formatDecimal(value, decimals)} ${unit}</b>${spread !== undefined && html` <span class="small">± ${spread}</span>`}</p>
<p class="verdict verdict-${verdict}">${words.verdict[verdict]}</p>
</div>
</li>`;
}

function hasLimit({ low, high }: PaperMeasurement): boolean {
  return low !== undefined || high !== undefined;
}

function bullets(
  label: string,
  texts: readonly string[],
  contentLanguage: string,
  kind = 'notes',
): HtmlValue {
  if (texts.length === 0) return undefined;
  return html`<div class="${kind}">
<h4>${label}</h4>
<ul lang="${contentLanguage}">${texts.map((text) => html`<li>${text}</li>`)}</ul>
</div>`;
}
