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

export function takePass() {
  const found = /^#pass=([\w-]+)$/.exec(location.hash);
  if (found) {
    localStorage.setItem(KEY, found[1]);
    history.replaceState(null, "", location.pathname);
  }
  return localStorage.getItem(KEY) ?? "";
}

async function send(method, path, body, signal) {
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

const unheard = () => new Refusal(0, { code: "offline", text: "Seamwright does not answer. Is it still running?" });

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
  return { blob: await answer.blob(), name: decodeURIComponent(name), said };
}

// A picture, asked for by its address.
export async function askPicture(path, signal) {
  const answer = await send("GET", path, undefined, signal);
  if (!answer.ok) throw new Refusal(answer.status, (await answer.json().catch(() => ({}))).error);
  return answer.blob();
}
