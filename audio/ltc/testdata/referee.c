/* Writes and reads linear timecode with libltc, for comparison.
 *
 *   referee read SAMPLERATE FPS            16 bit samples on stdin; a line a frame:
 *                                          label drop reverse start end
 *   referee write SAMPLERATE FPS DROP LEVEL FRAMES hh mm ss ff
 *                                          8 bit unsigned samples on stdout
 */
#include <ltc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void drain(LTCDecoder *d) {
	LTCFrameExt f;
	SMPTETimecode t;
	while (ltc_decoder_read(d, &f)) {
		ltc_frame_to_time(&t, &f.ltc, 0);
		printf("%02d:%02d:%02d:%02d %d %d %lld %lld\n", t.hours, t.mins, t.secs, t.frame, f.ltc.dfbit, f.reverse,
			(long long)f.off_start, (long long)f.off_end);
	}
}

static int read_sound(double rate, double fps) {
	LTCDecoder *d = ltc_decoder_create((int)(rate / fps + 0.5), 64);
	short buf[1024];
	ltc_off_t at = 0;
	size_t n;
	while ((n = fread(buf, sizeof buf[0], 1024, stdin)) > 0) {
		ltc_decoder_write_s16(d, buf, n, at);
		at += n;
		drain(d);
	}
	ltc_decoder_free(d);
	return 0;
}

static enum LTC_TV_STANDARD standard(double fps) {
	if (fps == 25) return LTC_TV_625_50;
	return fps < 25 ? LTC_TV_FILM_24 : LTC_TV_525_60;
}

static int write_sound(char **a) {
	double rate = atof(a[0]), fps = atof(a[1]);
	long frames = atol(a[4]);
	SMPTETimecode t;
	LTCFrame f;
	LTCEncoder *e = ltc_encoder_create(rate, fps, standard(fps), 0);
	ltc_encoder_set_volume(e, atof(a[3]));
	memset(&t, 0, sizeof t);
	t.hours = atoi(a[5]); t.mins = atoi(a[6]); t.secs = atoi(a[7]); t.frame = atoi(a[8]);
	ltc_encoder_set_timecode(e, &t);
	ltc_encoder_get_frame(e, &f);
	f.dfbit = atoi(a[2]);
	ltc_frame_set_parity(&f, standard(fps));
	ltc_encoder_set_frame(e, &f);
	while (frames--) {
		ltcsnd_sample_t *buf;
		ltc_encoder_encode_frame(e);
		int n = ltc_encoder_get_bufferptr(e, &buf, 1);
		fwrite(buf, 1, n, stdout);
		ltc_encoder_inc_timecode(e);
	}
	ltc_encoder_end_encode(e);
	ltcsnd_sample_t *buf;
	int n = ltc_encoder_get_bufferptr(e, &buf, 1);
	fwrite(buf, 1, n, stdout);
	ltc_encoder_free(e);
	return 0;
}

int main(int argc, char **argv) {
	if (argc == 4 && !strcmp(argv[1], "read")) return read_sound(atof(argv[2]), atof(argv[3]));
	if (argc == 11 && !strcmp(argv[1], "write")) return write_sound(argv + 2);
	fprintf(stderr, "wrong use\n");
	return 2;
}
