"""A Modbus slave by the published library pymodbus (3.0, as Debian 12 has it), on a pseudo-terminal, for the stories.

    python3 modbus_slave.py LINK

LINK becomes the port. Each line on standard input is an angle in degrees that the slave shows from then on: as a 32-bit float
in its input registers 7 and 8, high word first; as hundredths in its holding register 40, with 0.50 in register 44; with
`record FILE` it writes what it answers to a few questions into FILE instead.
"""

import asyncio
import os
import pty
import struct
import sys
import threading
import tty

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.server.async_io import ModbusSerialServer
from pymodbus.transaction import ModbusRtuFramer

SLAVE = 17


def words_of(angle):
    return list(struct.unpack(">2H", struct.pack(">f", angle)))


class Shown:
    """What the slave shows; register N of the frame is place N + 1 of a block that begins at 1."""

    def __init__(self, angle):
        self.inputs = ModbusSequentialDataBlock(1, [0] * 20)
        self.holding = ModbusSequentialDataBlock(1, [0] * 60)
        self.device = ModbusSlaveContext(ir=self.inputs, hr=self.holding)
        self.show(angle)

    def show(self, angle):
        self.inputs.setValues(8, words_of(angle))
        self.holding.setValues(41, [round(angle * 100) & 0xFFFF])
        self.holding.setValues(45, [50])


def between(one, other):
    """Carries bytes from one end to the other."""
    try:
        while True:
            os.write(other, os.read(one, 256))
    except OSError:
        pass


def terminal():
    master, slave = pty.openpty()
    tty.setraw(slave)
    return master, slave


def serve(shown, path):
    async def run():
        context = ModbusServerContext(slaves={SLAVE: shown.device}, single=False)
        server = ModbusSerialServer(context, framer=ModbusRtuFramer, port=path, baudrate=19200)
        await server.start()
        await server.serve_forever()

    threading.Thread(target=lambda: asyncio.run(run()), daemon=True).start()


def crc(frame):
    value = 0xFFFF
    for byte in frame:
        value ^= byte
        for _ in range(8):
            value = (value >> 1) ^ 0xA001 if value & 1 else value >> 1
    return frame + struct.pack("<H", value)


def record(shown, file, near):
    """What it answers, as hexadecimal digits: the question, then the answer."""
    import time

    questions = [
        ("angle -1.25 as a float", -1.25, bytes([SLAVE, 4, 0, 7, 0, 2])),
        ("angle 12.34 as a float", 12.34, bytes([SLAVE, 4, 0, 7, 0, 2])),
        ("angle -1.25 in hundredths", -1.25, bytes([SLAVE, 3, 0, 40, 0, 1])),
        ("cross 0.50 in hundredths", -1.25, bytes([SLAVE, 3, 0, 44, 0, 1])),
        ("registers it does not have", -1.25, bytes([SLAVE, 3, 3, 232, 0, 1])),
    ]
    with open(file, "w", encoding="utf-8") as out:
        out.write("# Answers of a slave of the published library pymodbus; written by modbus_slave.py.\n")
        for what, angle, question in questions:
            shown.show(angle)
            os.write(near, crc(question))
            time.sleep(0.5)
            answer = os.read(near, 256)
            out.write(f"{what}\t{crc(question).hex()}\t{answer.hex()}\n")


def main():
    link, *rest = sys.argv[1:]
    shown = Shown(0.0)
    far, far_slave = terminal()
    serve(shown, os.ttyname(far_slave))
    if rest:
        import time

        time.sleep(1)
        return record(shown, rest[1], far)
    near, near_slave = terminal()
    for one, other in [(near, far), (far, near)]:
        threading.Thread(target=between, args=(one, other), daemon=True).start()
    os.symlink(os.ttyname(near_slave), link)
    print("ready", flush=True)
    for line in sys.stdin:
        shown.show(float(line))
    os.remove(link)


if __name__ == "__main__":
    main()
