"""ITU-R BS.2051 as PyPI's `ear` carries it, on where a loudspeaker may stand: one is set just within and just without each end of
its range, and the rule has to tell them apart. The first argument is the data file out of that package."""

import math
import sys

import yaml

from common import Answer, Case, settle, yes

# Which channel of which layout a place of ours is, without and with a rear pair: our reading, as the recommendation has no rooms.
CHANNELS = {
    5: {"left": "0+5+0 M+030", "centre": "4+7+0 M+000", "surround-left": "0+5+0 M+110", "wide-left": "9+10+3 M+060",
        "overhead-front-left": "4+5+0 U+030", "overhead-middle-left": "9+10+3 U+090", "overhead-rear-left": "4+5+0 U+110"},
    7: {"left": "4+7+0 M+030", "centre": "4+7+0 M+000", "surround-left": "4+7+0 M+090", "rear-left": "4+7+0 M+135",
        "wide-left": "9+10+3 M+060", "overhead-front-left": "4+7+0 U+045", "overhead-middle-left": "9+10+3 U+090",
        "overhead-rear-left": "4+7+0 U+135"}}
# What the rule allows beyond the recommendation: practice of homes (rules/room/speaker-angle.yaml).
TOLERANCE = 10.0
SEAT = (20.0, 20.0, 5.0)


def channels(layouts):
    found = {}
    for layout in layouts:
        for channel in layout["channels"]:
            nominal = [float(channel["position"][axis]) for axis in ("az", "el")]
            # Without a range a channel stands at its nominal angle exactly.
            spans = [channel.get(f"{axis}_range", [angle, angle]) for axis, angle in zip(("az", "el"), nominal)]
            found[f"{layout['name']} {channel['name']}"] = (nominal, spans)
    return found


def stand(azimuth, elevation):
    """The point 2 m from the seat in a direction. The seat looks along falling x, so that left is along falling y."""
    az, el = math.radians(azimuth), math.radians(elevation)
    steps = -math.cos(az) * math.cos(el), -math.sin(az) * math.cos(el), math.sin(el)
    return "[" + ", ".join(f"{at + 2 * step:.6f} m" for at, step in zip(SEAT, steps)) + "]"


def plan(place, bed, direction, rear):
    ends = (f"  screen: {{kind: screen, room: media, at: [17 m, 20 m, 5 m]}}\n  seat: {{kind: seat, room: media, at: [20 m, 20 m, 5 m]}}\n"
            f"  tried: {{kind: speaker, room: media, place: {place}, at: {stand(*direction)}}}\n")
    if bed == 7 and not place.startswith("rear"):
        ends += f"  rear: {{kind: speaker, room: media, place: rear-right, at: {stand(-rear[0], rear[1])}}}\n"
    return f"nailplate: 1\nregion: us\nbuilding: one-family\nrooms:\n  media: {{size: [40 m, 40 m, 10 m]}}\nendpoints:\n{ends}"


def cases(known):
    for bed, places in CHANNELS.items():
        for place, channel in places.items():
            nominal, spans = known[channel]
            for side in (1, -1) if place != "centre" else (1,):
                name = place if side == 1 else place.replace("left", "right")
                for axis, span in enumerate(spans):
                    for end, outwards in zip(span, (-1, 1)):
                        for beyond in (-0.5, 0.5):
                            direction = list(nominal)
                            direction[axis] = end + outwards * (TOLERANCE + beyond)
                            direction[0] *= side
                            text = plan(name, bed, direction, known["4+7+0 M+135"][0])
                            yield Case(f"{name} of {bed} ({channel}) at {direction[0]:g}, {direction[1]:g}", text,
                                       [Answer("finding room.speaker-angle tried", yes(beyond > 0))])


with open(sys.argv[1]) as file:
    settle("loudspeakers", list(cases(channels(yaml.safe_load(file)))), stored=40, brief=True)
