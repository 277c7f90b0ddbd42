import type { ChargeClass, TaxClass } from '../price-book.ts';
import { codeText } from '../words.ts';

/** 1 -> '1 minuto', 45 -> '45 minutos'. */
export function minutesInSpanish(minutes: number): string {
  return minutes === 1 ? '1 minuto' : `${minutes} minutos`;
}

/** To follow 'menos 20% de': 'la mano de obra'. */
export const chargeClassesInSpanish: Record<ChargeClass, string> = {
  visit_fee: 'la tarifa de visita',
  part: 'las piezas',
  labor: 'la mano de obra',
  access: 'el acceso',
};

export const taxClassesInSpanish: Record<TaxClass, string> = {
  visit_fee: 'tarifa de visita',
  part: 'piezas',
  material: 'materiales',
  equipment: 'equipo',
  labor: 'mano de obra',
  access: 'acceso',
};

/**
 * A code of the owner's book in Spanish. The owner names ways in and periods freely: the usual
 * names are translated, any other stands as it was given.
 */
export function codeInSpanish(code: string): string {
  return usualCodes.get(code) ?? codeText(code);
}

const usualCodes: ReadonlyMap<string, string> = new Map([
  ['air_handler', 'manejadora de aire'],
  ['attic', 'ático'],
  ['condenser', 'condensadora'],
  ['condenser_electrical', 'parte eléctrica de la condensadora'],
  ['crawl_space', 'espacio bajo el piso'],
  ['duct_space', 'espacio de los ductos'],
  ['electrical_panel', 'tablero eléctrico'],
  ['furnace', 'calefactor (furnace)'],
  ['indoor_unit_cabinet', 'gabinete de la unidad interior'],
  ['outdoor_unit_cabinet', 'gabinete de la unidad exterior'],
  ['refrigerant_circuit', 'circuito de refrigerante'],
  ['roof', 'techo'],
  ['thermostat', 'termostato'],
  ['regular', 'horario regular'],
  ['after_hours', 'fuera de horario'],
  ['evening', 'noche'],
  ['night', 'noche'],
  ['weekend', 'fin de semana'],
  ['saturday', 'sábado'],
  ['sunday', 'domingo'],
  ['holiday', 'día festivo'],
]);
