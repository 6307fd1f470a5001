// What a story stands on: the program running as a demo school, a browser, and visitors who sign in.
//
// Everything that follows from how the program speaks (its command line, the lines `demo` prints, the sign-in form)
// is in this file and nowhere else.

import { spawn } from "node:child_process";
import { once } from "node:events";
import { createWriteStream, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import { createInterface } from "node:readline";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { Visitor } from "./visitor.mjs";

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");
export const target = process.env.CARGO_TARGET_DIR ?? path.join(root, "target");
const binary = process.env.TYMPAN_BIN ?? path.join(target, "debug/tympan");

// A Tuesday afternoon in the term: the demo school is the same at every run when seed and instant are.
export const SEED = "1";
export const AT = "2026-11-10T19:20:00Z";
const START_SECONDS = 180; // a debug build makes the demo pictures slowly
const SIGN_IN = "/sign-in";

/** Reads one line that `tympan demo` prints, or null where the line says something else. */
export function readDemoLine(line) {
  const address = /^address: (http:\/\/\S+?)\/?$/.exec(line);
  if (address) return { address: address[1] };
  const signIn = /^sign-in ([^:]+): (\S+) (\S+)$/.exec(line);
  if (signIn) return { signIn: { role: signIn[1].trim(), email: signIn[2], password: signIn[3] } };
  return null;
}

/** The program running on a folder of its own until it is told to stop. What it says goes into a file and to `hear`. */
class Running {
  static started = 0;
  /** Those to be ended with the runner, however it ends. */
  static alive = new Set();

  static {
    process.once("exit", () => Running.alive.forEach((one) => one.process.kill()));
  }

  constructor(program, args, env, hear) {
    const logs = path.join(target, "browser");
    mkdirSync(logs, { recursive: true });
    Running.started += 1;
    this.log = path.join(logs, `program-${Running.started}.log`);
    this.folder = mkdtempSync(path.join(tmpdir(), "tympan-"));
    this.said = [];
    this.process = spawn(program, args, {
      cwd: this.folder,
      env: { ...process.env, TMPDIR: this.folder, ...env(this.folder) },
      stdio: ["ignore", "pipe", "pipe"],
    });
    Running.alive.add(this);
    this.ended = new Promise((tell) => {
      this.process.on("error", (error) => tell(`${program} does not start: ${error.message}`));
      this.process.on("exit", (code, signal) => tell(`the program ended (${signal ?? `code ${code}`}); see ${this.log}`));
    });
    const log = createWriteStream(this.log);
    for (const stream of [this.process.stdout, this.process.stderr]) {
      createInterface({ input: stream }).on("line", (line) => {
        log.write(`${line}\n`);
        this.said.push(line);
        hear(line);
      });
    }
  }

  /** Waits until `ready` says so; what the program said last goes with a failure. */
  async until(ready, what) {
    let over = null;
    this.ended.then((why) => (over = why));
    const deadline = Date.now() + START_SECONDS * 1000;
    try {
      while (Date.now() < deadline) {
        if (over) throw new Error(over);
        if (await ready()) return;
        await pause(50);
      }
      throw new Error(`no ${what} after ${START_SECONDS} s`);
    } catch (error) {
      await this.stop();
      throw new Error(`${error.message}\n${this.said.slice(-12).join("\n")}`);
    }
  }

  async stop() {
    this.process.kill("SIGTERM");
    const left = await Promise.race([this.ended, pause(10_000, "late", { ref: false })]);
    if (left === "late") this.process.kill("SIGKILL");
    Running.alive.delete(this);
    rmSync(this.folder, { recursive: true, force: true });
  }
}

const answers = (address) => fetch(address, { redirect: "manual" }).then(() => true, () => false);

/** A running demo school: `address`, `signIns` ({role, email, password}, the first of a role being the usual one). */
export class Demo {
  static async start({ at = AT, seed = SEED, more = [], program = binary } = {}) {
    const demo = new Demo();
    demo.signIns = [];
    const args = ["demo", "--seed", seed, "--at", at, "--listen", "127.0.0.1:0", ...more];
    demo.running = new Running(program, args, () => ({}), (line) => {
      const read = readDemoLine(line);
      if (read?.address) demo.address = read.address;
      if (read?.signIn) demo.signIns.push(read.signIn);
      if (read) demo.lastRead = Date.now();
    });
    // The address and the sign-ins may come in either order, so the lines have to have come to rest.
    await demo.running.until(async () => {
      const told = demo.address && demo.signIns.length > 0 && Date.now() - demo.lastRead > 300;
      return told && answers(demo.address);
    }, "address and sign-ins");
    return demo;
  }

  signIn(role) {
    const found = this.signIns.find((one) => one.role === role);
    if (!found) throw new Error(`the demo names no sign-in “${role}”; it names ${this.signIns.map((one) => one.role)}`);
    return found;
  }

  async stop() {
    await this.running.stop();
  }
}

/**
 * A school that nobody has set up yet: `address`, `setUp` (the path that works once), and `letters()`, its `.eml` files.
 * With `database`, an SQLite file, the school that is in it.
 */
export class NewSchool {
  static async start({ program = binary, database = null } = {}) {
    const school = new NewSchool();
    const port = await freePort();
    school.address = `http://127.0.0.1:${port}`;
    const env = (folder) => ({ TYMPAN_DATA: folder, TYMPAN_LISTEN: `127.0.0.1:${port}`, TYMPAN_PUBLIC_URL: school.address, TYMPAN_LOG: "warn", ...(database ? { TYMPAN_DATABASE_URL: `sqlite:${database}` } : {}) });
    school.running = new Running(program, ["serve"], env, (line) => {
      const address = /^(http:\/\/\S+)$/.exec(line);
      if (address) school.setUp = new URL(address[1]).pathname;
    });
    await school.running.until(() => (school.setUp || database) && answers(school.address), "one-time address");
    return school;
  }

  /** The letters written so far, oldest first, as they would be sent. */
  letters() {
    const folder = path.join(this.running.folder, "letters");
    if (!existsSync(folder)) return [];
    const files = readdirSync(folder, { recursive: true }).map(String).filter((file) => file.endsWith(".eml"));
    return files.sort().map((file) => readFileSync(path.join(folder, file), "utf8"));
  }

  async stop() {
    await this.running.stop();
  }
}

export async function freePort() {
  const taken = createServer().listen(0, "127.0.0.1");
  await once(taken, "listening");
  const { port } = taken.address();
  taken.close();
  await once(taken, "close");
  return port;
}

// Chromium without its windows, which nobody would see and which take a fifth of the time.
const CHROMIUM = process.env.TYMPAN_CHROMIUM ?? "/usr/bin/chromium-headless-shell";

/** One Chromium with a new, empty profile. It resolves no name and reaches nothing but this machine. */
export async function openBrowser() {
  return chromium.launch({
    executablePath: CHROMIUM,
    headless: true,
    args: [
      "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    ],
  });
}

/** A visitor at `address`, not signed in, with a cookie jar of their own. */
export async function visit(browser, address, { width = "narrow", scheme = "light" } = {}) {
  return Visitor.arrive(browser, address, { width, scheme, pictures: path.join(target, "pictures") });
}

/** Signs a visitor in by the form, as a person would. The fields are found by what they tell a password manager. */
export async function signIn(visitor, { email, password }) {
  await visitor.go(SIGN_IN);
  await visitor.page.locator('input[autocomplete~="username"]').fill(email);
  await visitor.page.locator('input[autocomplete~="current-password"]').fill(password);
  await visitor.page.locator('main form[method="post"] button[type="submit"]').first().click();
  await visitor.page.waitForLoadState("load");
  if (new URL(visitor.page.url()).pathname === SIGN_IN) {
    throw new Error(`${email} could not sign in: ${await visitor.page.locator("main").innerText()}`);
  }
}
