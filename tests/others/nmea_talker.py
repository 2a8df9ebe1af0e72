"""A talker whose sentences the published library pynmea2 makes, on a pseudo-terminal, for the stories.

    python3 nmea_talker.py LINK

LINK becomes the port; twenty sentences a second. Each line on standard input is an angle in degrees that it shows from
then on. With `record FILE` it writes a few sentences into FILE instead.
"""

import os
import pty
import sys
import threading
import time
import tty

import pynmea2


def sentences(angle):
    data = ("A", f"{angle:.2f}", "D", "PITCH", "A", "0.50", "D", "ROLL")
    yield str(pynmea2.XDR("II", "XDR", data))
    # What other sentences the talker sends is passed over.
    yield str(pynmea2.MTW("II", "MTW", ("17.9", "C")))


def main():
    link, *rest = sys.argv[1:]
    if rest:
        with open(rest[1], "w", encoding="utf-8") as out:
            for angle in (-1.25, 0.0, 12.34, -0.07):
                out.writelines(f"{angle:.2f}\t{sentence}\n" for sentence in sentences(angle))
        return
    shown = [0.0]
    master, slave = pty.openpty()
    tty.setraw(slave)

    def talk():
        while True:
            for sentence in sentences(shown[0]):
                os.write(master, sentence.encode("ascii") + b"\r\n")
            time.sleep(0.05)

    os.set_blocking(master, False)

    def careful():
        while True:
            try:
                talk()
            except BlockingIOError:
                time.sleep(0.05)

    threading.Thread(target=careful, daemon=True).start()
    os.symlink(os.ttyname(slave), link)
    print("ready", flush=True)
    for line in sys.stdin:
        shown[0] = float(line)
    os.remove(link)


if __name__ == "__main__":
    main()
