/* Measured: a sample as a line of the project's own, with sequence, time, unit, flags and CRC, by jigtrue.h. */
#include "line.h"
#define JIGTRUE_ROM PROGMEM
#define JIGTRUE_READ(address) pgm_read_byte(address)
#include "../../firmware-protocol/c/jigtrue.h"

static jigtrue_board board;

int main(void) {
    start();
    jigtrue_start(&board);
    for (;;) {
        int32_t value = millidegrees();
        uint8_t length;
        making();
        length = jigtrue_sample(&board, 123456u + TCNT1, JIGTRUE_ANGLE, value, -3, JIGTRUE_DEGREES, 0);
        made();
        send(board.line, length);
    }
}
