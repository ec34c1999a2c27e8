/** The address of the page: an entry of the browser's history for each kitchen and place that was shown. */

interface Wanted {
  /** What stands behind the question mark. */
  readonly query: string;
  /** The last way back or forth that was answered. */
  readonly answered: number;
}

interface Call {
  readonly data: Wanted;
  readonly setTriggerValue: (name: string, value: unknown) => void;
}

let ways = Date.now();
/** The way that waits for its answer: until then the address is where the person went, and nothing is entered. */
let waiting: number | null = null;
let isFirst = true;

export default function component({ data, setTriggerValue }: Call): () => void {
  if (waiting === null || waiting === data.answered) enter(data.query);
  const went = () => {
    waiting = ++ways;
    setTriggerValue("went", { query: shown(), way: waiting });
  };
  window.addEventListener("popstate", went);
  return () => window.removeEventListener("popstate", went);
}

/** The first kitchen, and one that is not what was asked for, take the place of the entry that is there. */
function enter(query: string): void {
  const isInPlace = isFirst || waiting !== null;
  [isFirst, waiting] = [false, null];
  if (query === shown()) return;
  const address = `${location.pathname}${query && "?"}${query}`;
  if (isInPlace) history.replaceState(history.state, "", address);
  else history.pushState(null, "", address);
}

function shown(): string {
  return location.search.slice(1);
}
