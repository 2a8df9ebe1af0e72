/* Texts that are made while the board runs, and texts that are in flash. */
#include "../../firmware-protocol/c/examples/atmega328p.h"

static const char flash_name[] PROGMEM = "in flash";
static const char flash_number[] PROGMEM = "F-0001";
static const char flash_firmware[] PROGMEM = "1.0";
static const char flash_detail[] PROGMEM = "from flash";

static jigtrue_board board;

int main(void) {
    char number[] = "R-0000";
    char byte;
    volatile uint8_t unit = 42;
    number[4] = (char)('0' + unit / 10u);
    number[5] = (char)('0' + unit % 10u);
    start_clock_and_line();
    jigtrue_start(&board);
    send_surely(board.line, jigtrue_identify(&board, now_ms(), "made here", number, "1.0"));
    send_surely(board.line, jigtrue_identify_rom(&board, now_ms(), flash_name, flash_number, flash_firmware));
    send_surely(board.line, jigtrue_fault(&board, now_ms(), 200, "from RAM"));
    send_surely(board.line, jigtrue_fault_rom(&board, now_ms(), JIGTRUE_SENSOR, flash_detail));
    for (;;) {
        (void)heard(&byte);
    }
}
