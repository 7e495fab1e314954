package refusal

// Code is the name by which programs and translations know a refusal.
type Code string

// The codes. Each page has words for each of them in every language but English.
const (
	Answered          Code = "answered"
	AtStation         Code = "at_station"
	BadAddress        Code = "bad_address"
	BadCommand        Code = "bad_command"
	BadExtra          Code = "bad_extra"
	BadFrame          Code = "bad_frame"
	BadGame           Code = "bad_game"
	BadList           Code = "bad_list"
	BadName           Code = "bad_name"
	BadNotice         Code = "bad_notice"
	BadOption         Code = "bad_option"
	BadOutcome        Code = "bad_outcome"
	BadPaper          Code = "bad_paper"
	BadPhoto          Code = "bad_photo"
	BadPlan           Code = "bad_plan"
	BadScore          Code = "bad_score"
	BadSeason         Code = "bad_season"
	BadSeeding        Code = "bad_seeding"
	BadSet            Code = "bad_set"
	BadSettings       Code = "bad_settings"
	BadTime           Code = "bad_time"
	BadWinner         Code = "bad_winner"
	Beaten            Code = "beaten"
	Busy              Code = "busy"
	ComeBack          Code = "come_back"
	CrossSite         Code = "cross_site"
	Ended             Code = "ended"
	Failed            Code = "failed"
	Followed          Code = "followed"
	GameFull          Code = "game_full"
	HostPresent       Code = "host_present"
	LastAtStation     Code = "last_at_station"
	LastQuestion      Code = "last_question"
	Level             Code = "level"
	LockedOut         Code = "locked_out"
	NameRefused       Code = "name_refused"
	NameTaken         Code = "name_taken"
	NoBackup          Code = "no_backup"
	NoGame            Code = "no_game"
	NoPhoto           Code = "no_photo"
	NoPlace           Code = "no_place"
	NoPlan            Code = "no_plan"
	NoPlate           Code = "no_plate"
	NoQR              Code = "no_qr"
	NoQuestion        Code = "no_question"
	NoQuestions       Code = "no_questions"
	NoRound           Code = "no_round"
	NoTeams           Code = "no_teams"
	NoTie             Code = "no_tie"
	NoTournament      Code = "no_tournament"
	NotASide          Code = "not_a_side"
	NotArrived        Code = "not_arrived"
	NotEnded          Code = "not_ended"
	NotErased         Code = "not_erased"
	NotHere           Code = "not_here"
	NotHolder         Code = "not_holder"
	NotHost           Code = "not_host"
	NotNow            Code = "not_now"
	NotPrinted        Code = "not_printed"
	NotSaved          Code = "not_saved"
	NotStored         Code = "not_stored"
	NothingLeft       Code = "nothing_left"
	NothingToRedo     Code = "nothing_to_redo"
	NothingToUndo     Code = "nothing_to_undo"
	OldPlan           Code = "old_plan"
	OpenMatches       Code = "open_matches"
	Paused            Code = "paused"
	PhotoDamaged      Code = "photo_damaged"
	PhotoTooBig       Code = "photo_too_big"
	PhotoTooLarge     Code = "photo_too_large"
	PhotoWrongType    Code = "photo_wrong_type"
	Recorded          Code = "recorded"
	SeatTaken         Code = "seat_taken"
	SetAside          Code = "set_aside"
	SharedKey         Code = "shared_key"
	StalePlan         Code = "stale_plan"
	Tie               Code = "tie"
	TooFast           Code = "too_fast"
	TooFew            Code = "too_few"
	TooLate           Code = "too_late"
	TooManyEdits      Code = "too_many_edits"
	TooManyJoins      Code = "too_many_joins"
	TooManyPhotos     Code = "too_many_photos"
	TooManyRounds     Code = "too_many_rounds"
	TooManyTries      Code = "too_many_tries"
	TournamentFull    Code = "tournament_full"
	UnknownCode       Code = "unknown_code"
	UnknownCommand    Code = "unknown_command"
	UnknownEntrant    Code = "unknown_entrant"
	UnknownMatch      Code = "unknown_match"
	UnknownName       Code = "unknown_name"
	UnknownQuestion   Code = "unknown_question"
	UnknownRoster     Code = "unknown_roster"
	UnknownSeason     Code = "unknown_season"
	UnknownTeam       Code = "unknown_team"
	UnknownTournament Code = "unknown_tournament"
	WrongKey          Code = "wrong_key"
)

// kinds has the kind of each code that is no Conflict.
var kinds = map[Code]Kind{
	BadFrame: Malformed,

	BadAddress:     Invalid,
	BadCommand:     Invalid,
	BadExtra:       Invalid,
	BadGame:        Invalid,
	BadList:        Invalid,
	BadName:        Invalid,
	BadNotice:      Invalid,
	BadOption:      Invalid,
	BadOutcome:     Invalid,
	BadPaper:       Invalid,
	BadPhoto:       Invalid,
	BadPlan:        Invalid,
	BadScore:       Invalid,
	BadSeason:      Invalid,
	BadSeeding:     Invalid,
	BadSet:         Invalid,
	BadSettings:    Invalid,
	BadTime:        Invalid,
	BadWinner:      Invalid,
	NameRefused:    Invalid,
	NotPrinted:     Invalid,
	PhotoDamaged:   Invalid,
	PhotoTooLarge:  Invalid,
	TooFew:         Invalid,
	TooManyRounds:  Invalid,
	UnknownCommand: Invalid,

	PhotoTooBig: TooLarge,

	PhotoWrongType: WrongType,

	CrossSite: Forbidden,
	NotHost:   Forbidden,
	WrongKey:  Forbidden,

	NoPhoto:           Missing,
	NoPlate:           Missing,
	NoQuestions:       Missing,
	NoRound:           Missing,
	UnknownCode:       Missing,
	UnknownRoster:     Missing,
	UnknownSeason:     Missing,
	UnknownTournament: Missing,

	NotArrived: Late,

	TooFast:      TooMany,
	TooManyJoins: TooMany,
	TooManyTries: TooMany,

	ComeBack:  Unavailable,
	NotStored: Unavailable,

	Failed:    Internal,
	NoQR:      Internal,
	NotErased: Internal,
	NotSaved:  Internal,
	SetAside:  Internal,
}
