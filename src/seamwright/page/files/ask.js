// Asks the server. The pass came behind the # of the address, which no server and no log ever sees.

const KEY = "seamwright pass";

export class Refusal extends Error {
  constructor(status, error) {
    super(error?.text ?? "The server did not answer as expected.");
    this.name = "Refusal";
    this.status = status;
    this.code = error?.code ?? "";
    this.faults = error?.faults ?? [];
  }
}

let tried = Promise.resolve(); // what is asked waits until a pass was tried

// Takes the pass out of the address; one that does not let her in takes the place of none: any page of the browser may
// lead here with a pass of its own making. Returns null if there is none, else a promise that it was tried.
export function takePass() {
  const found = /^#pass=([\w-]{1,64})$/.exec(location.hash);
  if (!found) return null;
  history.replaceState(null, "", location.pathname);
  tried = tryPass(found[1]);
  return tried;
}

async function tryPass(pass) {
  if (pass === localStorage.getItem(KEY)) return;
  const answer = await fetch("/api/folder", { headers: { "Seamwright-Pass": pass } }).catch(() => null);
  if (answer?.ok) localStorage.setItem(KEY, pass);
}

async function send(method, path, body, signal) {
  await tried;
  const headers = { "Seamwright-Pass": localStorage.getItem(KEY) ?? "" };
  if (body !== undefined) headers["Content-Type"] = "application/json";
  let answer;
  try {
    answer = await fetch(`/api/${path}`, { method, headers, signal, body: body === undefined ? undefined : JSON.stringify(body) });
  } catch (problem) {
    if (problem.name === "AbortError") throw problem;
    throw unheard();
  }
  return answer;
}

// Nobody answers; or `why` not.
export const unheard = (why = "") => new Refusal(0, { code: "offline", text: why || "Seamwright does not answer. Is it still running?" });

// The answer as data; a refusal is thrown, with its whole body as `data` (a conflict carries what is there now).
export async function ask(method, path, body, signal) {
  const answer = await send(method, path, body, signal);
  const data = await answer.json().catch((problem) => {
    if (problem.name === "AbortError") throw problem;
    if (answer.ok) throw unheard(); // it broke off on its way: nobody knows what it said
    return {};
  });
  if (!answer.ok) throw Object.assign(new Refusal(answer.status, data.error), { data });
  return data;
}

// The answer as a file: {blob, name, said}; `said` is what is told of it, a sentence each.
export async function askFile(path, body, signal) {
  const answer = await send("POST", path, body, signal);
  if (!answer.ok) throw new Refusal(answer.status, (await answer.json().catch(() => ({}))).error);
  const name = /filename\*=UTF-8''([^;]+)/.exec(answer.headers.get("Content-Disposition") ?? "")?.[1] ?? "seamwright";
  const said = JSON.parse(decodeURIComponent(answer.headers.get("Seamwright-Said") ?? "%5B%5D"));
  return { blob: await whole(answer), name: decodeURIComponent(name), said };
}

// A picture, asked for by its address.
export async function askPicture(path, signal) {
  const answer = await send("GET", path, undefined, signal);
  if (!answer.ok) throw new Refusal(answer.status, (await answer.json().catch(() => ({}))).error);
  return whole(answer);
}

// All of a file; one that broke off on its way is no answer.
const whole = (answer) => answer.blob().catch((problem) => {
  throw problem.name === "AbortError" ? problem : unheard();
});
