/**
 * Bills of another summer as an older list would have them: invented, like everybody in them. A part
 * that cost under $20 stands there at $700 and at $2,000, a breaker that was switched back on as a
 * repair, and a drain that was cleared at an honest price.
 */
export const lastYearsBills = [
  'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged',
  '2025-07-08,Ives Marrable,No cooling,Failed run capacitor,Replaced run capacitor,,,,,,,,700.00',
  '2025-07-09,Ives Marrable,No cooling,Failed run capacitor,Replaced run capacitor,Capacitor 45/5 x 1 @ 18.40,,,,,,,2000.00',
  '2025-07-09,Odette Pell,Nothing runs,Tripped breaker,Reset the breaker,,,13:05,13:20,89.00,160.00,,249.00',
  '2025-07-10,Odette Pell,Water by the indoor unit,Plugged drain,Cleared the condensate drain,,,9:00,10:05,,,,148.00',
  '2025-07-11,Ives Marrable,It hums,Worn contactor,Replaced contactor,,4,14:00,15:10,,,,310.00',
].join('\r\n');
