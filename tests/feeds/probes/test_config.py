"""The [feeds] table: what it may say, and one line for what it may not."""

import tomllib

import pytest

from mustwatch.feeds.probes.config import plan_of

W1 = '[probes.shelf]\nsource = "w1"\nid = "28-0123456789ab"\nbatch = "fir"\n'
MQTT = '[broker]\nhost = "h"\n[probes.float]\nsource = "mqtt"\ntopic = "t"\ngravity = "g"\nbatch = "fir"\n'


def test_probes_and_broker_are_read():
    """With what is usual where nothing is said."""
    plan = plan_of(tomllib.loads(W1 + MQTT + "calibration = [[65, 1.08], [25, 1.0]]\nnoise_sg = 0.006\n"))
    shelf, float_ = plan.probes
    assert (shelf.root, shelf.bands.average_s, shelf.floats) == ("/sys/bus/w1/devices", 600.0, False)
    assert float_.calibration == ((25.0, 1.0), (65.0, 1.08)) and float_.bands.average_s == 3600.0
    assert plan.broker and plan.broker.port == 1883 and plan.publish is None


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (W1.replace('"w1"', '"usb"'), "source must be one of"),
        (W1.replace('batch = "fir"', ""), "either batch or place"),
        (W1 + 'place = "x"\n', "either batch or place"),
        (W1.replace("28-0123456789ab", "../etc"), "its folder on the bus"),
        (W1 + "dead_band_c = 0\n", "dead_band_c must be a number"),
        (W1 + 'topic = "x"\n', "topic is not known"),
        (W1.replace("shelf", '"Shelf 1"'), "small letters"),
        (MQTT.replace('[broker]\nhost = "h"\n', ""), "broker is missing"),
        (MQTT.replace('gravity = "g"\n', ""), "where its value is"),
        (MQTT.replace('"t"', '"t/#"'), r"without \+ and #"),
        (MQTT.replace('batch = "fir"', 'place = "cellar"'), "must have a batch"),
        (MQTT + "calibration = [[1, 2]]\n", "at least two"),
        (MQTT + "calibration = [[1, 2], [1, 3]]\n", "twice"),
        (MQTT.replace('"h"', '"h"\npassword = "x"'), "no secret belongs"),
        (MQTT.replace('"h"', '"h"\nversion = "4"'), "version must be"),
        (MQTT.replace('"h"', '"h"\ntls = "yes"'), "tls must be"),
        ('[publish]\nprefix = "a"\n', "broker is missing"),
        (MQTT + '[publish]\nprefix = "a/#"\n', "plain topic"),
        ("every_s = 0\n", "every_s must be"),
    ],
)
def test_a_fault_is_one_line_that_names_the_key(text, why):
    """What is wrong and what would be right."""
    with pytest.raises(ValueError, match=why):
        plan_of(tomllib.loads(text))
