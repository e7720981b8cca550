package main

type serveCommand struct{}

func (serveCommand) Run() error { return nil }
