// Stands in for curl on machines without it, as far as the README uses it: -s, -H, -d, -o.
import { writeFile } from 'node:fs/promises';

const headers = {};
let url = '';
let data;
let file;
const words = process.argv.slice(2);
while (words.length > 0) {
  const word = words.shift();
  if (word === '-s') continue;
  else if (word === '-H') {
    const [name, ...value] = words.shift().split(': ');
    headers[name] = value.join(': ');
  } else if (word === '-d') data = words.shift();
  else if (word === '-o') file = words.shift();
  else if (word.startsWith('-')) throw new Error(`the README uses ${word}, unknown here`);
  else url = word;
}
const response = await fetch(url, { method: data ? 'POST' : 'GET', headers, body: data });
const bytes = Buffer.from(await response.arrayBuffer());
if (file) await writeFile(file, bytes);
else process.stdout.write(bytes);
