package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"path/filepath"
	_ "time/tzdata" // a workshop's computer may have no table of time zones

	"blackbath/server"
	"blackbath/server/demo"
	"blackbath/server/store"
)

type serveCommand struct {
	Data     string `default:"blackbath-data" placeholder:"DIR" help:"Folder of the workshop's log. Default: ${default}."`
	Database string `placeholder:"URL" help:"PostgreSQL database to keep the log in, instead of a file in the folder."`
	Listen   string `default:"127.0.0.1:8420" placeholder:"ADDR" help:"Address to listen on. Default: ${default}, this computer only."`
	Demo     bool   `help:"Start with an invented workshop, kept apart in the folder demo below the data folder."`
}

// Run serves the pages until the context ends.
func (cmd *serveCommand) Run(ctx context.Context, s streams) error {
	dir := cmd.Data
	if cmd.Demo {
		dir = filepath.Join(dir, "demo")
	}
	listener, err := net.Listen("tcp", cmd.Listen)
	if err != nil {
		return badInput{fmt.Errorf("--listen: %w", err)}
	}
	defer listener.Close()
	kept, err := store.Open(ctx, store.Config{Dir: dir, URL: cmd.Database})
	if err != nil {
		return err
	}
	defer kept.Close()
	if cmd.Demo {
		if err := demo.Fill(ctx, kept); errors.Is(err, demo.ErrRealWorkshop) {
			return badInput{fmt.Errorf("--demo: %w; give it a database of its own", err)}
		} else if err != nil {
			return err
		}
	}
	service, err := server.New(server.Config{Store: kept, Version: version, Logger: slog.New(slog.NewTextHandler(s.err, nil))})
	if err != nil {
		return err
	}
	fmt.Fprintf(s.out, "blackbath %s: open http://%s in a browser. Stop with Ctrl+C.\n", version, listener.Addr())
	if !loopback(listener.Addr()) {
		fmt.Fprintln(s.err, "blackbath: everyone on this network can read and change the log: there is no sign-in yet.")
	}
	return service.Serve(ctx, listener)
}

// loopback says whether only this computer can reach an address.
func loopback(a net.Addr) bool {
	tcp, ok := a.(*net.TCPAddr)
	return ok && tcp.IP.IsLoopback()
}
