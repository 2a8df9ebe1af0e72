/*
 * Holds jigtrue.h to the golden lines: writes each line a board sends and compares it, hears each
 * command, and hears nothing in each refused line nor in any command with one bit turned.
 * Usage: test_lines vectors/lines.txt. The C library is used here only; the header itself needs none.
 */
#include "jigtrue.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COLUMNS 10

static jigtrue_board board;

static void fail(const char *what, const char *line) {
    fprintf(stderr, "%s: %s\n", what, line);
    exit(1);
}

/* Which of the words, each ended by a zero byte, this is. */
static uint8_t nth_of(const char *words, const char *word) {
    uint8_t nth = 0;
    while (strcmp(words, word) != 0) {
        words += strlen(words) + 1;
        nth++;
    }
    return nth;
}

static uint16_t flags_of(const char *letters) {
    uint16_t flags = 0;
    for (; *letters != '\0' && *letters != '-'; letters++) {
        const char *at = strchr(jigtrue_letters, *letters);
        flags = (uint16_t)(flags | 1u << (at - jigtrue_letters));
    }
    return flags;
}

static uint32_t number_of(const char *digits) { return (uint32_t)strtoul(digits, NULL, 10); }

/* Writes what the columns say; 0 if this is not a line of a board. */
static uint8_t written(char **column) {
    uint32_t ms;
    if (strcmp(column[0], "command") == 0 || strcmp(column[0], "later") == 0 ||
        strcmp(column[0], "refused") == 0) {
        return 0;
    }
    board.sequence = number_of(column[1]);
    ms = number_of(column[2]);
    if (strcmp(column[0], "sample") == 0) {
        return jigtrue_sample(&board, ms, nth_of(jigtrue_quantities, column[3]),
                              (int32_t)strtol(column[4], NULL, 10), (int8_t)atoi(column[5]),
                              nth_of(jigtrue_units, column[6]), flags_of(column[7]));
    }
    if (strcmp(column[0], "identify") == 0) {
        return jigtrue_identify(&board, ms, column[3], column[4], column[5]);
    }
    if (strcmp(column[0], "status") == 0) {
        board.dropped = number_of(column[4]);
        return jigtrue_status(&board, ms, (uint16_t)number_of(column[3]), flags_of(column[5]));
    }
    if (strcmp(column[0], "fault") == 0) {
        return jigtrue_fault(&board, ms, nth_of(jigtrue_faults, column[3]), column[4]);
    }
    board.command = (uint16_t)number_of(column[3]);
    return jigtrue_answer(&board, ms, nth_of(jigtrue_outcomes, column[4]), column[5]);
}

/* Lets the board hear these bytes; says what the last of them completed. */
static uint8_t hears(const char *bytes, size_t length) {
    uint8_t what = JIGTRUE_NOTHING;
    size_t at;
    for (at = 0; at < length; at++) {
        what = jigtrue_received(&board, bytes[at]);
    }
    return what;
}

/* Every bit of the command turned, one at a time; nothing may be heard, and the whole one after it must be. */
static void hear_nothing_with_one_bit_turned(const char *line) {
    char damaged[JIGTRUE_LINE_MAX + 2];
    size_t length = strlen(line) + 1;
    size_t bit;
    for (bit = 0; bit < length * 8; bit++) {
        memcpy(damaged, line, length - 1);
        damaged[length - 1] = '\n';
        damaged[bit / 8] = (char)(damaged[bit / 8] ^ 1 << bit % 8);
        jigtrue_start(&board);
        if (hears(damaged, length) != JIGTRUE_NOTHING) {
            fail("a damaged command was heard", line);
        }
        if (hears(line, length - 1) != JIGTRUE_NOTHING || hears("\r\n", 2) != JIGTRUE_COMMAND) {
            fail("the whole command after a damaged one was not heard", line);
        }
    }
}

static void hear_command(char **column, size_t columns, const char *line) {
    jigtrue_start(&board);
    if (hears(line, strlen(line)) != JIGTRUE_NOTHING || hears("\n", 1) != JIGTRUE_COMMAND) {
        fail("a command was not heard", line);
    }
    if (board.command != number_of(column[1]) || board.asked != nth_of(jigtrue_requests, column[2])) {
        fail("a command was misheard", line);
    }
    if (columns > 4 && board.interval_ms != number_of(column[3])) {
        fail("an interval was misheard", line);
    }
    hears(line, strlen(line));
    if (hears("\n", 1) != (board.asked == JIGTRUE_ASK_IDENTIFY ? JIGTRUE_COMMAND : JIGTRUE_AGAIN)) {
        fail("the same command again was not known again", line);
    }
    hear_nothing_with_one_bit_turned(line);
}

static void hear_later_command(char **column, const char *line) {
    uint8_t unknown = strcmp(column[1], "unknown-command") == 0;
    jigtrue_start(&board);
    hears(line, strlen(line));
    if (hears("\n", 1) != JIGTRUE_COMMAND ||
        board.asked != (unknown ? JIGTRUE_ASK_UNKNOWN : JIGTRUE_ASK_ZERO)) {
        fail("a later command was not heard", line);
    }
}

/* Numbers that are in no list, and units that do not measure the quantity: nothing to send, no number used up. */
static void refuse_what_is_in_no_list(void) {
    unsigned quantity, unit, sent = 0;
    jigtrue_start(&board);
    for (quantity = 0; quantity < 256; quantity++) {
        for (unit = 0; unit < 256; unit++) {
            uint32_t before = board.sequence;
            uint8_t length = jigtrue_sample(&board, 1, (uint8_t)quantity, 5, 0, (uint8_t)unit, 0);
            if (board.sequence != before + (length > 0) || board.length != length) {
                fail("a refused value left something behind", "");
            }
            sent += length > 0;
        }
    }
    /* Angle, cross, length, torque and force in two units each, temperature in one. */
    if (sent != 11) {
        fail("a quantity or unit that is in no list was sent", "");
    }
    board.command = 1;
    for (unit = 0; unit < 256; unit++) {
        if ((jigtrue_answer(&board, 1, (uint8_t)unit, "") > 0) != (unit <= JIGTRUE_UNKNOWN)) {
            fail("an outcome that is in no list was sent", "");
        }
        if (jigtrue_fault(&board, 1, (uint8_t)unit, "") == 0 ||
            (unit >= JIGTRUE_OTHER && strstr(board.line, ",other,-*") == NULL)) {
            fail("a fault was not sent as it should be", "");
        }
    }
}

/* Frames of calipers as nibbles, the first bit the lowest, and the value in them; NULL where there is none. */
static void read_calipers(void) {
    static const struct {
        const char *nibbles;
        const char *value;
    } frames[] = {
        /* 52 bits: 12.34 mm, -123.45 mm, -1.2345 inch, nothing. */
        {"FFFF001234200", "12342e0 mm"}, {"FFFF000123420", "1234e-2 mm"}, {"FFFF801234520", "-12345e-2 mm"},
        {"FFFF801234541", "-12345e-4 in"}, {"FFFF000000000", "0e0 mm"}, {"FFFF00A123420", NULL},
        {"FFF0000123420", NULL}, {"FFFF100123420", NULL}, {"FFFF000123460", NULL}, {"FFFF000123422", NULL},
        /* 24 bits: 12.34 mm is 1234 = 0x4D2, lowest nibble first; -12.34 mm; 0.5 inch is 1000 = 0x3E8 half thousandths. */
        {"2D4000", "1234e-2 mm"}, {"2D4001", "-1234e-2 mm"}, {"8E3008", "5000e-4 in"}, {"8E3009", "-5000e-4 in"},
        {"FFFFF0", "1048575e-2 mm"}, {"000000", "0e-2 mm"}, {"2D4002", NULL}, {"2D4004", NULL},
        /* Bits lost or too many. */
        {"2D400", NULL}, {"2D40000", NULL}, {"FFFF00012342", NULL},
    };
    size_t at;
    for (at = 0; at < sizeof frames / sizeof frames[0]; at++) {
        uint8_t nibbles[16] = {0};
        uint8_t count = (uint8_t)strlen(frames[at].nibbles);
        uint8_t place;
        jigtrue_value value;
        char said[40];
        for (place = 0; place < count; place++) {
            char digit[2] = {frames[at].nibbles[place], '\0'};
            nibbles[place] = (uint8_t)strtoul(digit, NULL, 16);
        }
        if (!jigtrue_caliper(nibbles, (uint8_t)(4u * count), &value)) {
            if (frames[at].value != NULL) {
                fail("a frame of a caliper was refused", frames[at].nibbles);
            }
            continue;
        }
        snprintf(said, sizeof said, "%lde%d %s", (long)value.mantissa, value.exponent,
                 value.unit == JIGTRUE_MM ? "mm" : "in");
        if (frames[at].value == NULL || strcmp(said, frames[at].value) != 0) {
            fail(said, frames[at].nibbles);
        }
    }
}

int main(int count, char **arguments) {
    char row[512];
    unsigned lines = 0, commands = 0, refused = 0;
    FILE *file = count == 2 ? fopen(arguments[1], "r") : NULL;
    if (file == NULL) {
        fail("cannot open", count == 2 ? arguments[1] : "(nothing given)");
        return 1;
    }
    refuse_what_is_in_no_list();
    read_calipers();
    while (fgets(row, sizeof row, file) != NULL) {
        char *column[COLUMNS];
        size_t columns = 1;
        char *at;
        const char *line;
        uint8_t length;
        row[strcspn(row, "\n")] = '\0';
        if (row[0] == '#') {
            continue;
        }
        column[0] = row;
        for (at = row; *at != '\0'; at++) {
            if (*at == '\t' && columns < COLUMNS) {
                *at = '\0';
                column[columns++] = at + 1;
            }
        }
        line = column[columns - 1];
        length = written(column);
        if (length > 0) {
            size_t bare = strlen(line);
            if (length != bare + 2 || memcmp(board.line, line, bare) != 0 ||
                memcmp(board.line + bare, "\r\n", 2) != 0) {
                fail("a line was written otherwise", line);
            }
            lines++;
        } else if (strcmp(column[0], "command") == 0) {
            hear_command(column, columns, line);
            commands++;
        } else if (strcmp(column[0], "later") == 0 && strstr(column[1], "command") != NULL) {
            hear_later_command(column, line);
            commands++;
        } else {
            /* Refused lines, and lines that only a receiver of boards understands. */
            jigtrue_start(&board);
            hears(line, strlen(line));
            if (hears("\n", 1) != JIGTRUE_NOTHING) {
                fail("heard what is no command", line);
            }
            refused++;
        }
    }
    fclose(file);
    printf("%u lines written, %u commands heard, %u refused\n", lines, commands, refused);
    return 0;
}
