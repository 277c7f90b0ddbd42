import type { PaperKind } from '../documents/index.ts';
import type { Difference } from './proof-verdict.ts';
import type { ProofWords } from './proof-words.ts';
import type { Overlay } from './read-seen-file.ts';

/** The words of a verdict in the Spanish of the United States, addressed as "usted". */
export const spanishProofWords: ProofWords = {
  paper: (kind, number) => `${KINDS[kind] ?? 'documento'} ${number}`,
  genuine: (paper) => `Auténtico: este es nuestro documento, ${paper}.`,
  genuineMeaning: 'Es, hasta el último byte, el archivo que hicimos y firmamos.',
  samePages: (paper) =>
    `Las páginas son nuestro documento, ${paper}. El archivo no está empacado como lo hacemos hoy.`,
  samePagesMeaning:
    'Cada página que leemos en él, y los datos que lleva dentro, son los que firmamos. Otro programa guardó el archivo, o lo hizo el nuestro en una versión anterior o en otro tipo de máquina. Si algo en él le sorprende, pida el archivo tal como lo enviamos.',
  unsure: (paper) => `No lo podemos asegurar. Los datos que lleva dentro son nuestros: ${paper}.`,
  unsureMeaning: {
    saved_again:
      'Leemos en él las mismas palabras que en los datos firmados, pero otro programa guardó el archivo. Pida el archivo tal como lo enviamos.',
    earlier_release:
      'Lo dibujó una versión anterior de nuestro programa y después otro programa guardó el archivo. Las diferencias de palabras pueden ser nuestras. Pida el archivo tal como lo enviamos.',
  },
  altered: 'Alterado: este no es el documento tal como lo firmamos.',
  alteredMeaning: (signature, paper) =>
    signature === 'good'
      ? `Los datos firmados que lleva dentro son nuestros (${paper}) y están completos. Se cambió el archivo que los rodea. Pida el archivo tal como lo enviamos.`
      : 'La firma no corresponde a los datos que lleva dentro. No se fíe de este documento.',
  signedData: 'los datos firmados',
  attachedData: 'los datos que lleva dentro',
  dataChanged:
    'Las páginas y los datos que lleva dentro concuerdan entre sí, pero no con la firma. Ambos se cambiaron después de que firmamos, o se cambió la firma.',
  unknownKey: 'No lo firmamos nosotros, hasta donde estas claves permiten saber.',
  unknownKeyMeaning:
    'El documento lleva una firma, pero ninguna de las claves publicadas la hizo. No se fíe de él; pregúntenos.',
  notOurs: 'No lo podemos saber: el archivo no lleva dentro datos firmados por nosotros.',
  notOursMeaning:
    'Se pierden al imprimir, escanear o guardar como imagen. Pida el archivo tal como lo enviamos, o busque el documento por su código de verificación.',
  unreadable: 'No lo podemos saber: el archivo no se puede leer.',
  unreadableMeaning: {
    not_a_pdf: 'No es un archivo PDF.',
    locked: 'Está cerrado con contraseña. Nuestros documentos nunca lo están.',
    damaged: 'Está dañado. Pida el archivo tal como lo enviamos.',
    too_large: 'Es más grande que cualquier documento nuestro.',
    too_much_work: 'Leerlo exige más tiempo o memoria que cualquier documento nuestro.',
  },
  difference: tellDifference,
  more: (count) => (count === 1 ? 'Una diferencia más.' : `${count} diferencias más.`),
  stillStands: (pageUrl) => `Si sigue vigente, lo dice ${pageUrl}`,
};

const KINDS: Readonly<Record<string, string>> = {
  quote: 'presupuesto',
  acceptance: 'aceptación del presupuesto',
  decline: 'constancia del presupuesto rechazado',
  invoice: 'factura',
  credit_memo: 'nota de crédito',
  work_record: 'registro del trabajo',
} satisfies Record<PaperKind, string>;

const OVERLAYS: Record<Overlay, string> = {
  field: 'un campo para llenar',
  link: 'un enlace',
  note: 'una nota, un sello o un dibujo',
};

function tellDifference(difference: Difference): string {
  switch (difference.kind) {
    case 'words':
      return tellWords(difference);
    case 'page_added':
      return `La página ${difference.page} no está en los datos firmados.`;
    case 'page_missing':
      return `Falta la página ${difference.page} de los datos firmados.`;
    case 'page_order':
      return 'Las páginas están en otro orden que en los datos firmados.';
    case 'page_shape':
      return `La página ${difference.page} se recortó, se giró o cambió de tamaño.`;
    case 'drawing':
      return `La página ${difference.page} tiene las mismas palabras, pero no está dibujada como la dibujan los datos firmados: puede que algo se haya movido, tapado o agregado.`;
    case 'overlay':
      return `Sobre la página ${difference.page} hay ${OVERLAYS[difference.overlay]} que no pusimos nosotros.`;
    case 'script':
      return 'Al abrir el archivo se inicia algo. Con nuestros documentos nunca pasa.';
    case 'locked':
      return 'El archivo se cerró después de que lo hicimos.';
    case 'title':
      return `El archivo se titula «${difference.says}»; los datos firmados dicen «${difference.signed}».`;
    case 'attachment_added':
      return `Se le adjuntó el archivo «${difference.name}», y no fuimos nosotros.`;
    case 'appended':
      return 'Se agregó algo al final del archivo después de terminado.';
    case 'undrawable':
      return 'Con los datos que lleva dentro no se puede dibujar ningún documento.';
  }
}

function tellWords({ page, says, signed }: Extract<Difference, { kind: 'words' }>): string {
  if (signed === '') return `La página ${page} dice ${says}; los datos firmados no lo dicen.`;
  if (says === '') return `La página ${page} no dice ${signed}; los datos firmados sí.`;
  return `La página ${page} dice ${says}; los datos firmados dicen ${signed}.`;
}
