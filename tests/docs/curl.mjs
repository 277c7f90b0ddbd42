// Stands in for curl on machines without it, as far as the README uses it: -s, -N, -m, -H, -d, -o, -D -
// and --data-binary @, of a file or of what is piped in.
import { readFile, writeFile } from 'node:fs/promises';

const headers = {};
let url = '';
let data;
let file;
let showsHeaders = false;
let secondsMax;
const words = process.argv.slice(2);
while (words.length > 0) {
  const word = words.shift();
  if (word === '-s' || word === '-N') continue;
  else if (word === '-m') secondsMax = Number(words.shift());
  else if (word === '-H') {
    const [name, ...value] = words.shift().split(': ');
    headers[name] = value.join(': ');
  } else if (word === '-d') data = words.shift();
  else if (word === '--data-binary') {
    const from = words.shift().slice(1);
    data = await readFile(from === '-' ? '/dev/stdin' : from);
  } else if (word === '-D') showsHeaders = words.shift() === '-';
  else if (word === '-o') file = words.shift();
  else if (word.startsWith('-')) throw new Error(`the README uses ${word}, unknown here`);
  else url = word;
}
if (secondsMax !== undefined) setTimeout(() => process.exit(28), secondsMax * 1_000);
const response = await fetch(url, { method: data ? 'POST' : 'GET', headers, body: data });
if (showsHeaders) for (const pair of response.headers) console.log(pair.join(': '));
if (file) await writeFile(file, Buffer.from(await response.arrayBuffer()));
else for await (const chunk of response.body) process.stdout.write(chunk);
if (secondsMax !== undefined) process.exit();
