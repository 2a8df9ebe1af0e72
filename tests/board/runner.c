/*
 * Runs a sketch on an emulated ATmega328P at 16 MHz (libsimavr), with what is wired to it.
 *
 *   runner SKETCH.elf LINK    at its own pace; the serial line is a pseudo-terminal to which LINK leads
 *   runner SKETCH.elf         as fast as it goes; what the board sends goes to standard output
 *
 * Standard input says what happens, a line each, one after another; the end of it ends the run:
 *
 *   tilt SUM      the voltage on ADC0, so that 64 conversions in a row add up to SUM
 *   frame HEX     a frame of nibbles from a caliper: clock on PD2, data on PD3
 *   turned 1      a transistor at each of these pins turns them round
 *   hear TEXT     a line to the board (without LINK; a program on the terminal says its own)
 *   wait MS       so long until the next line, in the board's time
 *
 * At the end standard error tells the cycles that PB0 was high and how many times, for what a sketch does in them is measured; and
 * the most that the stack took.
 */
#define _GNU_SOURCE
#include <fcntl.h>
#include <simavr/avr_adc.h>
#include <simavr/avr_ioport.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_elf.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

enum { HERTZ = 16000000, SLICE = HERTZ / 1000, BIT = HERTZ / 2500, VOLTS_MV = 5000 };

static avr_t *avr;
static avr_irq_t *adc0, *uart_in, *clock_pin, *data_pin;
static int out, on_terminal;
static unsigned long tilt = 32768, phase;              /* the sum of 64 conversions; what is left over so far */
static char nibbles[64];                               /* of the frame under way */
static unsigned turned, bits, half_bit;                       /* bits of it; edges of its clock so far */
static char hear[256];                                 /* what the board is still to hear */
static size_t heard, to_hear;
static int may_hear = 1;
static avr_cycle_count_t high_since, high_cycles;
static unsigned long high_times;
static unsigned lowest;

static void converted(struct avr_irq_t *irq, uint32_t value, void *param) {
    unsigned long step = (phase += tilt) / 64; /* carried on, so that any 64 in a row add up to `tilt` */
    phase %= 64;
    avr_raise_irq(adc0, (uint32_t)((step * VOLTS_MV + 1022) / 1023));
    (void)irq, (void)value, (void)param;
}

static void sent(struct avr_irq_t *irq, uint32_t value, void *param) {
    char byte = (char)value;
    /* A line that nobody empties loses what does not fit, as a wire does. */
    if (write(out, &byte, 1) != 1 && !on_terminal) {
        exit(1);
    }
    (void)irq, (void)param;
}

static void flow(struct avr_irq_t *irq, uint32_t value, void *param) {
    may_hear = param != NULL;
    (void)irq, (void)value;
}

static void measured(struct avr_irq_t *irq, uint32_t value, void *param) {
    if (value) {
        high_since = avr->cycle;
    } else if (high_since) {
        high_cycles += avr->cycle - high_since;
        high_times++;
    }
    (void)irq, (void)param;
}

static avr_cycle_count_t next_edge(avr_t *board, avr_cycle_count_t when, void *param) {
    unsigned bit = half_bit / 2;
    if (bit >= bits) {
        return 0;
    }
    if (half_bit % 2 == 0) {
        unsigned nibble = (unsigned)strtoul((char[]){nibbles[bit / 4], 0}, NULL, 16);
        avr_raise_irq(data_pin, (nibble >> bit % 4 & 1) ^ turned);
        avr_raise_irq(clock_pin, 1 ^ turned);
    } else {
        avr_raise_irq(clock_pin, turned);
    }
    half_bit++;
    (void)board, (void)param;
    return when + BIT / 2;
}

/* Does one line of standard input; the milliseconds until the next, or -1 for what makes no sense. */
static long happen(char *line) {
    char *rest = strchr(line, ' ');
    rest = rest ? rest + 1 : line + strlen(line);
    if (!strncmp(line, "tilt ", 5)) {
        tilt = strtoul(rest, NULL, 10);
    } else if (!strncmp(line, "frame ", 6) && strlen(rest) < sizeof nibbles) {
        strcpy(nibbles, rest);
        bits = 4 * (unsigned)strlen(rest), half_bit = 0;
        avr_cycle_timer_register(avr, BIT, next_edge, NULL);
    } else if (!strncmp(line, "turned ", 7)) {
        avr_raise_irq(clock_pin, 1 ^ (turned = *rest == '1'));
    } else if (!strncmp(line, "hear ", 5) && strlen(rest) + 3 < sizeof hear) {
        to_hear = (size_t)sprintf(hear, "%s\r\n", rest), heard = 0;
    } else if (!strncmp(line, "wait ", 5)) {
        return strtol(rest, NULL, 10);
    } else if (*line) {
        fprintf(stderr, "runner: `%s`?\n", line);
        return -1;
    }
    return 0;
}

/* A terminal for the board, and the link to it; a number may be given out again, so the old link goes first. */
static int terminal(const char *link) {
    struct termios raw;
    int master = posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
    if (master < 0 || grantpt(master) || unlockpt(master) || tcgetattr(master, &raw)) {
        perror("runner: no terminal");
        exit(1);
    }
    cfmakeraw(&raw);
    tcsetattr(master, TCSANOW, &raw);
    unlink(link);
    if (symlink(ptsname(master), link)) {
        perror(link);
        exit(1);
    }
    return master;
}

int main(int count, char **args) {
    elf_firmware_t sketch = {0};
    uint32_t flags = 0;
    char lines[4096];
    size_t held = 0;
    avr_cycle_count_t due = 0;
    struct timespec next;
    int ended = 0;
    /* The library says things on standard output, which is the board's. */
    out = dup(STDOUT_FILENO);
    dup2(STDERR_FILENO, STDOUT_FILENO);
    if (count < 2 || elf_read_firmware(args[1], &sketch) || !(avr = avr_make_mcu_by_name("atmega328p"))) {
        fprintf(stderr, "runner SKETCH.elf [LINK]\n");
        return 2;
    }
    avr_init(avr);
    avr_load_firmware(avr, &sketch);
    avr->frequency = HERTZ;
    avr->vcc = avr->avcc = avr->aref = VOLTS_MV;
    avr->log = LOG_ERROR;
    avr_ioctl(avr, AVR_IOCTL_UART_GET_FLAGS('0'), &flags);
    flags &= ~(uint32_t)(AVR_UART_FLAG_STDIO | AVR_UART_FLAG_POLL_SLEEP);
    avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
    adc0 = avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_ADC0);
    uart_in = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_INPUT);
    clock_pin = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), IOPORT_IRQ_PIN2);
    data_pin = avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), IOPORT_IRQ_PIN3);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_ADC_GETIRQ, ADC_IRQ_OUT_TRIGGER), converted, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), sent, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUT_XON), flow, avr);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUT_XOFF), flow, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), IOPORT_IRQ_PIN0), measured, NULL);
    avr_raise_irq(clock_pin, 1);
    on_terminal = count > 2;
    lowest = avr->ramend;
    if (on_terminal) {
        out = terminal(args[2]);
        fcntl(STDIN_FILENO, F_SETFL, O_NONBLOCK);
    }
    clock_gettime(CLOCK_MONOTONIC, &next);
    while (!(ended && held == 0 && avr->cycle >= due)) {
        avr_cycle_count_t until = avr->cycle + SLICE;
        while (avr->cycle < until) {
            int state = avr_run(avr);
            if (state == cpu_Done || state == cpu_Crashed) {
                fprintf(stderr, "runner: the sketch has stopped\n");
                return 1;
            }
            if (avr->data[R_SPL] + 256u * avr->data[R_SPH] < lowest) {
                lowest = avr->data[R_SPL] + 256u * avr->data[R_SPH];
            }
        }
        while (avr->cycle >= due) {
            char *end = memchr(lines, '\n', held);
            long wait;
            if (!end) {
                ssize_t came = held < sizeof lines && !ended ? read(STDIN_FILENO, lines + held, sizeof lines - held) : -1;
                ended |= came == 0;
                held = ended ? 0 : held + (came > 0 ? (size_t)came : 0);
                if (came <= 0) {
                    break;
                }
                continue;
            }
            *end = '\0';
            wait = happen(lines);
            if (wait < 0) {
                return 2;
            }
            due = wait ? avr->cycle + (avr_cycle_count_t)wait * SLICE : due;
            held -= (size_t)(end + 1 - lines);
            memmove(lines, end + 1, held);
        }
        if (on_terminal) {
            struct timespec now;
            if (heard == to_hear) {
                ssize_t came = read(out, hear, sizeof hear);
                heard = 0, to_hear = came > 0 ? (size_t)came : 0;
            }
            next.tv_nsec += 1000000;
            next.tv_sec += next.tv_nsec / 1000000000;
            next.tv_nsec %= 1000000000;
            clock_gettime(CLOCK_MONOTONIC, &now);
            /* What a busy machine made it late is not run after. */
            if (now.tv_sec - next.tv_sec > 1) {
                next = now;
            }
            clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &next, NULL);
        }
        while (may_hear && heard < to_hear) {
            avr_raise_irq(uart_in, (uint8_t)hear[heard++]);
        }
    }
    fflush(stdout); /* what the library had to say */
    fprintf(stderr, "\n%lu cycles in %lu, stack %u\n", (unsigned long)high_cycles, high_times, avr->ramend - lowest);
    return 0;
}
