#!/usr/bin/env python3
"""Times a full-screen terminal program inside a pty; DEVELOPERS.md, "Measuring", says how it is used.

  ptybench.py [options] -- CMD [ARG ...]

It prints one JSON object. Times are milliseconds of time.perf_counter, sizes are as the system gives them.

  start     from exec to the first byte and to the last byte of the first frame (the last before QUIET ms of silence)
  key       from writing a key to the first byte of output ("first") and to the last before KEYQUIET ms of silence ("done")
  idle      CPU time (ticks, and schedstat's nanoseconds, of all threads), wakeups and bytes over --idle seconds
  rss       VmRSS, RssAnon and Pss after the first frame, in KiB

It answers what a terminal of the xterm kind is asked at the start (DA1/2/3, DSR, DECRQM, OSC 4/10/11/12, XTVERSION,
XTGETTCAP, DECRQSS, the window's size). The query for the kitty keyboard stays unanswered unless --kitty is given.
It needs Linux (/proc) and Python's standard library.
"""
import argparse, fcntl, json, os, re, select, signal, statistics, struct, sys, termios, time

now = time.perf_counter

KEYS = {"up": b"\x1b[A", "down": b"\x1b[B", "right": b"\x1b[C", "left": b"\x1b[D", "home": b"\x1b[H",
        "end": b"\x1b[F", "pgup": b"\x1b[5~", "pgdn": b"\x1b[6~", "enter": b"\r", "esc": b"\x1b", "tab": b"\t",
        "space": b" ", "f10": b"\x1b[21~", "ctrl-x": b"\x18", "ctrl-c": b"\x03", "ctrl-n": b"\x0e", "ctrl-p": b"\x10"}

def keybytes(s):
    if s in KEYS: return KEYS[s]
    return s.encode().decode("unicode_escape").encode("latin-1")

Q = re.compile(
    rb"\x1b\[(?P<da>[>=]?)0?c"
    rb"|\x1b\[(?P<dsr>\??[56])n"
    rb"|\x1b\[\?(?P<kitty>u)"
    rb"|\x1b\](?P<osc>1[0-9]|4;\d+);\?(?P<st>\x07|\x1b\\)"
    rb"|\x1b\[(?P<priv>\??)(?P<decrqm>\d+)\$p"
    rb"|\x1b\[>(?P<xtver>0?)q"
    rb"|\x1bP\+q(?P<tcap>[0-9A-Fa-f;]*)\x1b\\"
    rb"|\x1bP\$q(?P<rqss>[^\x1b]*)\x1b\\"
    rb"|\x1b\[(?P<win>1[1468]|19)t")
CKM = re.compile(rb"\x1b\[\?(?:\d+;)*1(?:;\d+)*([hl])")
CUP = re.compile(rb"\x1b\[(\d*);?(\d*)[Hf]")

class Term:
    def __init__(self, fd, rows, cols, kitty):
        self.fd, self.rows, self.cols, self.kitty = fd, rows, cols, kitty
        self.tail = b""; self.queries = []; self.log = bytearray(); self.keep = True
        self.app_cursor = False
    def feed(self, data):
        """answer queries found in data"""
        if self.keep: self.log += data
        buf = self.tail + data
        if b"\x1b" not in buf:
            self.tail = b""; return
        for m in CKM.finditer(buf): self.app_cursor = m.group(1) == b"h"
        last = 0; out = b""
        for m in Q.finditer(buf):
            last = m.end(); r = b""; g = m.groupdict()
            name = m.group(0)
            if g["da"] is not None:
                r = {b"": b"\x1b[?64;1;2;6;9;15;16;17;18;21;22;28c", b">": b"\x1b[>41;379;0c",
                     b"=": b"\x1bP!|00000000\x1b\\"}[g["da"]]
            elif g["dsr"] is not None:
                if g["dsr"].endswith(b"5"): r = b"\x1b[0n"
                else:
                    pos = self.cursor(buf[:m.start()])
                    r = b"\x1b[%s%d;%dR" % (b"?" if g["dsr"][:1] == b"?" else b"", *pos)
            elif g["kitty"] is not None:
                if self.kitty: r = b"\x1b[?0u"
            elif g["osc"] is not None:
                col = b"rgb:0000/0000/0000" if g["osc"].startswith(b"11") else b"rgb:e5e5/e5e5/e5e5"
                r = b"\x1b]" + g["osc"] + b";" + col + g["st"]
            elif g["decrqm"] is not None:
                r = b"\x1b[" + g["priv"] + g["decrqm"] + b";0$y"
            elif g["xtver"] is not None:
                r = b"\x1bP>|XTerm(379)\x1b\\"
            elif g["tcap"] is not None:
                r = b"\x1bP0+r" + g["tcap"] + b"\x1b\\"
            elif g["rqss"] is not None:
                r = b"\x1bP0$r\x1b\\"
            elif g["win"] is not None:
                w = g["win"]
                r = {b"14": b"\x1b[4;%d;%dt" % (self.rows * 16, self.cols * 8), b"16": b"\x1b[6;16;8t",
                     b"18": b"\x1b[8;%d;%dt" % (self.rows, self.cols)}.get(w, b"")
            self.queries.append(name.decode("latin-1") + ("" if r else " (unanswered)"))
            out += r
        if out:
            try: os.write(self.fd, out)
            except OSError: pass
        rest = buf[last:]
        i = rest.rfind(b"\x1b")
        self.tail = rest[i:] if i >= 0 and len(rest) - i < 64 else b""
    def cursor(self, before):
        m = None
        for m in CUP.finditer(before): pass
        if m is None: return (1, 1)
        r, c = int(m.group(1) or 1), int(m.group(2) or 1)
        txt = re.sub(rb"\x1b\[[0-9;?<>=]*[A-Za-z]|\x1b\][^\x07\x1b]*(\x07|\x1b\\)|\x1b[()][A-Z0-9]|\x1b.", b"", before[m.end():])
        try: n = sum(1 for ch in txt.decode("utf-8", "ignore") if ch >= " ")
        except Exception: n = 0
        return (r, min(c + n, self.cols))

class Prog:
    def __init__(self, cmd, env, rows, cols, cwd=None, kitty=False):
        m, s = os.openpty()
        fcntl.ioctl(s, termios.TIOCSWINSZ, struct.pack("HHHH", rows, cols, cols * 8, rows * 16))
        name = os.ttyname(s)
        os.set_inheritable(m, False)
        fa = [(os.POSIX_SPAWN_OPEN, 0, name, os.O_RDWR, 0), (os.POSIX_SPAWN_DUP2, 0, 1), (os.POSIX_SPAWN_DUP2, 0, 2)]
        old = os.getcwd()
        if cwd: os.chdir(cwd)
        self.t0 = now()
        self.pid = os.posix_spawnp(cmd[0], cmd, env, file_actions=fa, setsid=True)
        self.t_spawned = now()
        if cwd: os.chdir(old)
        os.close(s)
        self.fd = m; os.set_blocking(m, False)
        self.term = Term(m, rows, cols, kitty)
        self.total = 0; self.eof = False
        self.po = select.poll(); self.po.register(m, select.POLLIN)
    def pump(self, timeout):
        """wait <= timeout s for output; return (bytes read, time of last read)"""
        ev = self.po.poll(max(0, timeout) * 1000)
        if not ev: return 0, None
        try: d = os.read(self.fd, 1 << 16)
        except BlockingIOError: return 0, None
        except OSError: self.eof = True; return 0, None
        t = now()
        if not d: self.eof = True; return 0, None
        self.total += len(d); self.term.feed(d)
        return len(d), t
    def until_quiet(self, quiet, first_timeout, min_bytes=1, expect=None, hard=10.0):
        """(first_t, last_t, bytes); first_t None if nothing came"""
        tb = now(); first = last = None; n = 0; chunks = 0
        while not self.eof:
            t = now()
            if t - tb > hard: break
            ok = first is not None and n >= min_bytes and (expect is None or expect in self.term.log)
            if ok:
                w = last + quiet - t
                if w <= 0: break
            else:
                w = tb + first_timeout - t
                if w <= 0: break
            k, tt = self.pump(w)
            if k:
                n += k; chunks += 1; last = tt
                if first is None: first = tt
        self.chunks = chunks
        return first, last, n
    def send(self, b):
        if self.term.app_cursor and len(b) == 3 and b[:2] == b"\x1b[" and b[2:] in b"ABCDHF": b = b"\x1bO" + b[2:]
        os.write(self.fd, b)
    def finish(self, quit_keys, timeout=1.5):
        t = now(); how = "quit"
        try:
            for k in quit_keys:
                self.send(k); self.until_quiet(0.01, 0.05, hard=0.3)
        except OSError: pass
        end = now() + timeout; rc = ru = None
        while now() < end:
            if not self.eof: self.pump(0.002)
            p, st, ru = os.wait4(self.pid, os.WNOHANG)
            if p: rc = st; break
            if self.eof: time.sleep(0.0005)
        texit = now() - t
        if rc is None:
            how = "killed"; os.kill(self.pid, signal.SIGKILL)
            _, rc, ru = os.wait4(self.pid, 0)
        os.close(self.fd)
        return how, rc, ru, texit

def procstat(pid):
    ticks = 0; ns = 0; vol = 0; nt = 0
    try:
        with open(f"/proc/{pid}/stat") as f: s = f.read().rsplit(")", 1)[1].split()
        ticks = int(s[11]) + int(s[12])
        for t in os.listdir(f"/proc/{pid}/task"):
            nt += 1
            with open(f"/proc/{pid}/task/{t}/schedstat") as f: ns += int(f.read().split()[0])
            with open(f"/proc/{pid}/task/{t}/status") as f:
                for l in f:
                    if l.startswith("voluntary_ctxt"): vol += int(l.split()[1])
    except (FileNotFoundError, ProcessLookupError): pass
    return ticks, ns, vol, nt

def mem(pid):
    r = {}
    with open(f"/proc/{pid}/status") as f:
        for l in f:
            if l.startswith(("VmRSS", "RssAnon", "RssFile", "VmHWM")): k, v = l.split()[:2]; r[k[:-1]] = int(v)
    try:
        with open(f"/proc/{pid}/smaps_rollup") as f:
            for l in f:
                if l.startswith("Pss:"): r["Pss"] = int(l.split()[1])
    except OSError: pass
    return r

def pct(v, p):
    v = sorted(v)
    return v[min(len(v) - 1, int(round(p / 100 * (len(v) - 1))))] if v else None

def stats(v, nd=3):
    if not v: return None
    return {"median": round(statistics.median(v), nd), "p99": round(pct(v, 99), nd), "min": round(min(v), nd), "max": round(max(v), nd), "n": len(v)}

def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--name"); ap.add_argument("--rows", type=int, default=30); ap.add_argument("--cols", type=int, default=100)
    ap.add_argument("--runs", type=int, default=21); ap.add_argument("--nkeys", type=int, default=200)
    ap.add_argument("--keys", default="down,up", help="comma list, repeated; KEY*N repeats")
    ap.add_argument("--pre", default="", help="comma list of keys sent (untimed) before the key test")
    ap.add_argument("--quit", default="q"); ap.add_argument("--idle", type=float, default=10.0)
    ap.add_argument("--quiet", type=float, default=30.0); ap.add_argument("--keyquiet", type=float, default=8.0)
    ap.add_argument("--min-bytes", type=int, default=200); ap.add_argument("--expect")
    ap.add_argument("--env", action="append", default=[]); ap.add_argument("--cwd"); ap.add_argument("--kitty", action="store_true")
    ap.add_argument("--binary"); ap.add_argument("--dump"); ap.add_argument("--gap", type=float, default=15.0, help="ms silence before each key")
    ap.add_argument("cmd", nargs=argparse.REMAINDER)
    a = ap.parse_args()
    cmd = a.cmd[1:] if a.cmd and a.cmd[0] == "--" else a.cmd
    env = {"PATH": os.environ["PATH"], "HOME": os.environ.get("PTYBENCH_HOME", "/nonexistent"), "TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "C.UTF-8", "USER": "root", "SHELL": "/bin/sh"}
    for e in a.env: k, v = e.split("=", 1); env[k] = v
    expect = a.expect.encode() if a.expect else None
    quit_keys = [keybytes(k) for k in a.quit.split(",") if k]
    seq = []
    for k in a.keys.split(","):
        k, _, n = k.partition("*") if "*" in k[1:] else (k, "", "1")
        seq += [keybytes(k)] * int(n or 1)
    out = {"name": a.name or cmd[0], "cmd": cmd, "size": [a.cols, a.rows], "loadavg": os.getloadavg()[0]}
    import shutil
    b = a.binary or shutil.which(cmd[0], path=env["PATH"])
    if b: out["binary_bytes"] = os.path.getsize(os.path.realpath(b))
    first, frame, fb, cpu, ext, spawn, rss, anon, how = [], [], [], [], [], [], [], [], {}
    for _ in range(a.runs):
        p = Prog(cmd, env, a.rows, a.cols, a.cwd, a.kitty)
        f, l, n = p.until_quiet(a.quiet / 1000, 5.0, a.min_bytes, expect)
        if f is None: p.finish(quit_keys); continue
        first.append((f - p.t0) * 1e3); frame.append((l - p.t0) * 1e3); fb.append(n); spawn.append((p.t_spawned - p.t0) * 1e3)
        if not p.eof:
            m = mem(p.pid); rss.append(m.get("VmRSS", 0)); anon.append(m.get("RssAnon", 0))
        h, rc, ru, tx = p.finish(quit_keys)
        how[h + ":" + str(rc)] = how.get(h + ":" + str(rc), 0) + 1
        cpu.append((ru.ru_utime + ru.ru_stime) * 1e3); ext.append(tx * 1e3)
    out["start"] = {"spawn_ms": stats(spawn), "first_ms": stats(first), "frame_ms": stats(frame), "frame_bytes": statistics.median(fb) if fb else None,
                    "cpu_start_to_exit_ms": stats(cpu), "quit_to_exit_ms": stats(ext), "exits": how, "queries": p.term.queries}
    out["rss_kib"] = {"VmRSS": statistics.median(rss) if rss else None, "RssAnon": statistics.median(anon) if anon else None}
    # keys
    p = Prog(cmd, env, a.rows, a.cols, a.cwd, a.kitty)
    p.until_quiet(a.quiet / 1000, 5.0, a.min_bytes, expect)
    if a.dump: open(a.dump, "wb").write(bytes(p.term.log))
    p.term.keep = False
    p.until_quiet(0.2, 0.3, hard=2.0)
    for k in [x for x in a.pre.split(",") if x]:
        p.send(keybytes(k)); p.until_quiet(0.05, 0.3, hard=1.0)
    kf, kd, kb, kc, miss, kcpu = [], [], [], [], 0, []
    for i in range(a.nkeys):
        if p.eof: break
        while p.pump(a.gap / 1000)[0]: pass
        c0 = procstat(p.pid)[1]
        t = now(); p.send(seq[i % len(seq)])
        f, l, n = p.until_quiet(a.keyquiet / 1000, 0.5, hard=2.0)
        if f is None: miss += 1; continue
        kf.append((f - t) * 1e3); kd.append((l - t) * 1e3); kb.append(n); kc.append(p.chunks); kcpu.append((procstat(p.pid)[1] - c0) / 1e3)
    out["key"] = {"first_ms": stats(kf), "done_ms": stats(kd), "bytes": stats(kb, 1), "reads": stats(kc, 1), "cpu_us": stats(kcpu, 1), "missed": miss}
    if a.idle > 0 and not p.eof:
        p.until_quiet(0.3, 0.5, hard=2.0); end = now() + 1.0
        while now() < end: p.pump(0.1)
        s0 = procstat(p.pid); b0 = p.total; t0 = now(); end = t0 + a.idle
        while now() < end and not p.eof: p.pump(end - now())
        s1 = procstat(p.pid); dt = now() - t0
        out["idle"] = {"seconds": round(dt, 2), "ticks_ms": (s1[0] - s0[0]) * 10, "cpu_ms": round((s1[1] - s0[1]) / 1e6, 3), "wakeups_per_s": round((s1[2] - s0[2]) / dt, 2), "bytes": p.total - b0, "threads": s1[3]}
        out["rss_after_keys"] = mem(p.pid)
    h = p.finish(quit_keys)
    out["last_exit"] = [h[0], h[1]]
    print(json.dumps(out))

main()
