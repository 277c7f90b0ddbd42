import type { Quantity } from '../words/quantities.ts';

/** What was measured, in Spanish. */
export const quantitiesInSpanish: Record<Quantity, string> = {
  voltage: 'Voltaje',
  current: 'Corriente',
  capacitance: 'Capacitancia',
  resistance: 'Resistencia',
  temperature: 'Temperatura',
  wet_bulb_temperature: 'Temperatura de bulbo húmedo',
  relative_humidity: 'Humedad relativa',
  gauge_pressure: 'Presión',
  static_pressure: 'Presión estática',
  vacuum: 'Vacío',
  airflow: 'Flujo de aire',
  mass: 'Peso',
  length: 'Longitud',
};
