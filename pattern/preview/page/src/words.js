// What the page says, in the language of the job: labels.csv of this package, embedded.
let labels = {};

export function speak(table) { labels = table; }

// say returns a label with its words and figures put in: %s in turn, or %[2]s.
export function say(key, ...words) {
  let next = 0;
  return (labels[key] ?? key).replace(/%(?:\[(\d)\])?s/g, (_, n) => String(words[n ? n - 1 : next++] ?? ''));
}
