"""Answers questions about one build after another with the functions of ref.py: a JSON line in, a JSON line out."""
import importlib.util, json, math, sys

spec = importlib.util.spec_from_file_location("ref", sys.argv[1])
ref = importlib.util.module_from_spec(spec)
spec.loader.exec_module(ref)

kept = []  # ref.py remembers by the id of a build: none may be freed
b = now = None


def number(cost):
    return None if math.isinf(cost) else round(cost, 6)


def reach(q):
    fitted = {"none": set(), "now": b.fitted_now(), "all": set(b.items)}[q["fitted"]]
    targets = {("item", x) if x in b.items else ("place", x) for x in q["targets"]}
    fitted = fitted - {x for k, x in targets if k == "item"}
    return {"cost_min": number(b.reach(targets, fitted, q["visits"])[0])}


def closein(q):
    y, out = q["item"], []
    for t in b.open_tasks():
        if y in t.get("fits", []):
            continue
        before, after = (b.reach_min(t, f) for f in (b.fitted_now() - {y}, b.fitted_now() | {y}))
        if not math.isinf(before) and after > before + 1e-9:
            out.append({"Task": t["id"], "before_min": number(before), "after_min": number(after)})
    return out


def held(r):
    """Units of r that cures of finished tasks still hold now."""
    done = [t for t in b.tasks.values() if t.get("state") == "finished" and t.get("finished_at")]
    return sum(1 for t in done if r in (t.get("cure") or {}).get("holds", []) and b.cured(t, ref.dt(t["finished_at"])) > now)


def can(t):
    if b.release(t, now) > now or math.isinf(b.reach_min(t, b.fitted_now())):
        return False
    for e in b.edges:
        if e.get("kind", "must") != "must" or e["after"] != t["id"]:
            continue
        before = b.tasks[e["before"]]
        if before.get("state") != "finished":
            return False
        if before.get("finished_at") and b.ready_after(e, ref.dt(before["finished_at"])) > now:
            return False
    for r, k in t.get("uses", {"builder": 1}).items():
        if k > 0 and r != "builder" and not b.in_hours(r, now):
            return False
        if k > 0 and held(r) and k > b.resources[r].get("capacity", 1) - held(r):
            return False
    return True


def answer(q):
    global b, now
    if q["op"] == "load":
        b, now = ref.Build(q["build"]), ref.dt(q["now"])
        kept.append(b)
        return True
    if q["op"] == "reach":
        return reach(q)
    if q["op"] == "closein":
        return closein(q)
    if q["op"] == "today":
        return sorted(t["id"] for t in b.open_tasks() if can(t))
    if q["op"] == "check":
        return ref.check(b, q["sequence"], now)
    if not 0 < len(b.open_tasks()) <= q["most"]:
        return {}
    return ref.best(b, now) or {}


for line in sys.stdin:
    print(json.dumps(answer(json.loads(line))), flush=True)
